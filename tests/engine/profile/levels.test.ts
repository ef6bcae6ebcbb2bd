import { describe, expect, test } from 'vitest';
import { NEVER } from '../../../src/engine/calendar/never.ts';
import { Levels } from '../../../src/engine/profile/levels.ts';
import { seededRandom } from '../random/seeded-random.ts';

describe('how much of a person is in use', () => {
  test('is a step function in which equal neighbours are one step', () => {
    const levels = new Levels(1);
    levels.add(0, 10, 20, 100);
    levels.add(0, 20, 30, 100);
    levels.add(0, 15, 25, 20);
    expect(levels.steps(0).slice(1)).toEqual([
      [10, 100],
      [15, 120],
      [25, 100],
      [30, 0],
    ]);
    levels.add(0, 15, 25, -20);
    expect(levels.steps(0).slice(1)).toEqual([
      [10, 100],
      [30, 0],
    ]);
  });

  test('tells where there is room for a share of it', () => {
    const levels = new Levels(1);
    levels.add(0, 10, 20, 70);
    levels.add(0, 22, 30, 100);
    expect(levels.nextRoom(0, 0, 10, 0)).toBe(0);
    expect(levels.nextRoom(0, 1, 10, 0)).toBe(30);
    expect(levels.nextRoom(0, 1, 10, 70)).toBe(1);
    expect(levels.lastAbove(0, 12, 40, 0)).toBe(30);
    expect(levels.lastAbove(0, 20, 22, 0)).toBe(-1);
    expect(levels.nextAbove(0, 20, 0)).toBe(22);
    expect(levels.nextAbove(0, 30, 0)).toBe(NEVER);
  });

  test('has no room any more after work without an end', () => {
    const levels = new Levels(1);
    levels.add(0, 50, NEVER, 1);
    expect(levels.nextRoom(0, 41, 10, 0)).toBe(NEVER);
    expect(levels.lastAbove(0, 45, 60, 0)).toBe(NEVER);
  });
});

test('every change can be undone in any order, and every question answers as a table does', () => {
  const random = seededRandom(3);
  for (let round = 0; round < 20; round++) {
    const levels = new Levels(1);
    const table = new Array<number>(100).fill(0);
    const changes: { from: number; to: number; amount: number }[] = [];
    const apply = ({ from, to, amount }: { from: number; to: number; amount: number }, sign: number) => {
      levels.add(0, from, to, sign * amount);
      for (let minute = from; minute < to; minute++) table[minute]! += sign * amount;
    };
    for (let k = 0; k < 60; k++) {
      const from = random.whole(0, 90);
      const change = { from, to: from + random.whole(0, 9), amount: random.whole(1, 3) };
      changes.push(change);
      apply(change, 1);
      if (random.chance(0.4)) apply(changes.splice(random.whole(0, changes.length - 1), 1)[0]!, -1);
      const at = random.whole(0, 80);
      const length = random.whole(1, 12);
      const room = random.whole(0, 4);
      expect(levels.levelAt(0, at)).toBe(table[at]);
      const fits = (minute: number) => table.slice(minute, minute + length).every((level) => level <= room);
      expect(levels.nextRoom(0, at, length, room)).toBe(Array.from({ length: 100 }, (_, m) => at + m).find(fits));
      const above = table.slice(at, at + length).findLastIndex((level) => level > room);
      const last = levels.lastAbove(0, at, at + length, room);
      if (above < 0) expect(last).toBe(-1);
      else {
        expect(table[last - 1]).toBeGreaterThan(room);
        expect(last).toBeGreaterThan(at + above);
      }
    }
    for (const change of changes.reverse()) apply(change, -1);
    expect(levels.steps(0).map(([, level]) => level)).toEqual([0]);
  }
});
