import { describe, expect, test } from 'vitest';
import { NEVER } from '../../../src/engine/calendar/never.ts';
import { WorkCalendar } from '../../../src/engine/calendar/work-calendar.ts';
import { seededRandom } from '../random/seeded-random.ts';

describe('a shift with a break', () => {
  // 8:00 to 12:00 and 12:30 to 17:00.
  const shift = new WorkCalendar({ at: [480, 720, 750, 1020], rate: [1, 0, 1, 0] });

  test('lets work that starts before the break end after it', () => {
    expect(shift.endOf(660, 60)).toBe(720);
    expect(shift.endOf(660, 61)).toBe(751);
  });

  test('ends work in one go a little after closing where people stay on as long, and only what begins in hours', () => {
    expect(shift.endStayingOn(990, 40, 10)).toBe(1030);
    expect(shift.endStayingOn(990, 41, 10)).toBe(-1);
    expect(shift.endStayingOn(730, 10, 10)).toBe(-1);
  });

  test('never ends work that outlasts it', () => {
    expect(shift.endOf(900, 121)).toBe(NEVER);
  });

  test('gives unbroken work the first start from which it meets no break', () => {
    expect(shift.nextUnbroken(0, 240)).toBe(480);
    expect(shift.nextUnbroken(481, 240)).toBe(750);
    expect(shift.nextUnbroken(781, 240)).toBe(NEVER);
  });

  test('tells the latest start from which work is done by an hour', () => {
    expect(shift.latestStart(780, 60)).toBe(690);
    expect(shift.latestStart(480, 1)).toBe(-1);
  });
});

describe('a cure that depends on the weather', () => {
  // Full speed, then 800 thousandths of it from minute 100 on.
  const cure = new WorkCalendar({ at: [0, 100], rate: [1000, 800] });

  test('takes longer where it is slower, rounded up to whole minutes', () => {
    expect(cure.endOf(0, 100_000)).toBe(100);
    expect(cure.endOf(50, 90_000)).toBe(150);
    expect(cure.endOf(50, 90_001)).toBe(151);
  });
});

test('a progress function answers as its sum minute by minute does', () => {
  const random = seededRandom(5);
  for (let round = 0; round < 60; round++) {
    const at: number[] = [];
    for (let minute = random.whole(0, 4); at.length < 8; minute += random.whole(1, 9)) at.push(minute);
    const rate = at.map(() => random.whole(0, 3));
    const calendar = new WorkCalendar({ at, rate });
    const rateAt = (minute: number) => rate[at.findLastIndex((from) => from <= minute)] ?? 0;
    const done = [0];
    for (let minute = 0; minute < 300; minute++) done.push(done[minute]! + rateAt(minute));
    for (let start = 0; start < 80; start += 3) {
      const work = random.whole(1, 30);
      const end = done.findIndex((sum, minute) => minute >= start && sum - done[start]! >= work);
      if (end >= 0) expect(calendar.endOf(start, work)).toBe(end);
      const until = start + 100;
      const latest = done.slice(0, until + 1).findLastIndex((sum) => done[until]! - sum >= work);
      expect(calendar.latestStart(until, work)).toBe(latest);
      expect(calendar.workAt(start)).toBe(done[start]);
      const isUnbroken = (from: number) => {
        const to = done.findIndex((sum, minute) => minute >= from && sum - done[from]! >= work);
        return to > from && Array.from({ length: to - from }, (_, k) => rateAt(from + k)).every((each) => each > 0);
      };
      const unbroken = Array.from({ length: 150 }, (_, k) => start + k).find(isUnbroken);
      if (unbroken !== undefined) expect(calendar.nextUnbroken(start, work)).toBe(unbroken);
    }
  }
});
