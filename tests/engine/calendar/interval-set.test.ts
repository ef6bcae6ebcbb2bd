import { describe, expect, test } from 'vitest';
import { IntervalSet } from '../../../src/engine/calendar/interval-set.ts';
import { NEVER } from '../../../src/engine/calendar/never.ts';
import { seededRandom } from '../random/seeded-random.ts';

const hours = new IntervalSet([
  { from: 540, to: 720 },
  { from: 480, to: 500 },
]);

describe('opening hours', () => {
  test('are half-open: the closing minute is outside', () => {
    expect(hours.contains(480)).toBe(true);
    expect(hours.contains(499)).toBe(true);
    expect(hours.contains(500)).toBe(false);
  });

  test('enclose what begins and ends within one of them', () => {
    expect(hours.encloses(540, 720)).toBe(true);
    expect(hours.encloses(539, 720)).toBe(false);
    expect(hours.encloses(490, 560)).toBe(false);
  });

  test('tell the next and the last open minute', () => {
    expect(hours.nextInside(0)).toBe(480);
    expect(hours.nextInside(500)).toBe(540);
    expect(hours.nextInside(600)).toBe(600);
    expect(hours.nextInside(720)).toBe(NEVER);
    expect(hours.lastInside(520)).toBe(499);
    expect(hours.lastInside(479)).toBe(-1);
    expect(hours.nextFrom(480)).toBe(540);
  });

  test('answer as a minute-by-minute table does', () => {
    const random = seededRandom(11);
    for (let round = 0; round < 50; round++) {
      const intervals: { from: number; to: number }[] = [];
      for (let from = random.whole(0, 5); from < 60; from += random.whole(1, 9)) {
        const to = from + random.whole(1, 8);
        intervals.push({ from, to });
        from = to;
      }
      const set = new IntervalSet(intervals);
      const open = Array.from({ length: 80 }, (_, minute) =>
        intervals.some(({ from, to }) => from <= minute && minute < to),
      );
      for (let minute = 0; minute < 75; minute++) {
        const next = open.indexOf(true, minute);
        expect(set.contains(minute)).toBe(open[minute]);
        expect(set.nextInside(minute)).toBe(next < 0 ? NEVER : next);
        const end = minute + random.whole(1, 5);
        expect(set.minutesIn(minute, end)).toBe(open.slice(minute, end).filter(Boolean).length);
        expect(set.lastMeeting(minute, end) >= 0).toBe(open.slice(minute, end).includes(true));
      }
    }
  });
});
