import { describe, expect, test } from 'vitest';
import { BudgetWindows } from '../../../src/engine/calendar/budget-windows.ts';
import { NEVER } from '../../../src/engine/calendar/never.ts';
import { WorkCalendar } from '../../../src/engine/calendar/work-calendar.ts';
import { WorkedPieces } from '../../../src/engine/calendar/worked-pieces.ts';
import { seededRandom } from '../random/seeded-random.ts';

const shift = new WorkCalendar({ at: [480, 720, 750, 1020, 1920, 2460], rate: [1, 0, 1, 0, 1, 0] });

function piecesOf(pieces: WorkedPieces): [number, number][] {
  return Array.from({ length: pieces.count }, (_, k) => [pieces.from[k]!, pieces.to[k]!]);
}

describe('correction that spans breaks and nights', () => {
  test('is worked in pieces between them', () => {
    const pieces = new WorkedPieces();
    expect(pieces.ofWork(shift, null, 660, 400, NEVER)).toBe(1990);
    expect(piecesOf(pieces)).toEqual([
      [660, 720],
      [750, 1020],
      [1920, 1990],
    ]);
  });

  test('pauses for the day when the daily limit of machine work is reached', () => {
    const perDay = new BudgetWindows(
      {
        name: 'machine work',
        limit: 300,
        windows: [
          { from: 0, to: 1440 },
          { from: 1440, to: 2880 },
        ],
      },
      0,
    );
    const pieces = new WorkedPieces();
    // 8:00 to 12:00 and 12:30 to 13:30 make the day's 300 minutes; the other 100 follow next morning.
    expect(pieces.ofWork(shift, perDay, 480, 400, NEVER)).toBe(2020);
    expect(piecesOf(pieces)).toEqual([
      [480, 720],
      [750, 810],
      [1920, 2020],
    ]);
    pieces.ofSpan(shift, perDay, 480, 2020);
    expect(piecesOf(pieces)).toEqual([
      [480, 720],
      [750, 810],
      [1920, 2020],
    ]);
  });

  test('that cannot end by the latest end wanted has none', () => {
    expect(new WorkedPieces().ofWork(shift, null, 660, 400, 1989)).toBe(NEVER);
  });
});

test('pieces under a budget are those of a minute-by-minute clock', () => {
  const random = seededRandom(23);
  for (let round = 0; round < 200; round++) {
    const at = [0, 7, 12, 20, 26, 40];
    const rate = at.map(() => random.whole(0, 2));
    rate[5] = 1;
    const budget = new BudgetWindows(
      {
        name: 'b',
        limit: random.whole(1, 8),
        windows: [
          { from: 3, to: 15 },
          { from: 15, to: 30 },
          { from: 35, to: 50 },
        ],
      },
      0,
    );
    const calendar = new WorkCalendar({ at, rate });
    const work = random.whole(1, 25);
    const start = Array.from({ length: 30 }, (_, k) => random.whole(0, 20) + k).find(
      (minute) => rate[at.findLastIndex((from) => from <= minute)]! > 0,
    )!;
    const worked: number[] = [];
    const used = [0, 0, 0];
    let left = work;
    let minute = start;
    for (; left > 0; minute++) {
      const speed = rate[at.findLastIndex((from) => from <= minute)]!;
      const window = [...budget.from.keys()].findIndex((w) => budget.from[w]! <= minute && minute < budget.to[w]!);
      if (speed === 0 || (window >= 0 && used[window]! >= budget.limit)) continue;
      if (window >= 0) used[window]!++;
      worked.push(minute);
      left -= speed;
    }
    const pieces = new WorkedPieces();
    expect(pieces.ofWork(calendar, budget, start, work, NEVER)).toBe(minute);
    expect(piecesOf(pieces).flatMap(([from, to]) => Array.from({ length: to - from }, (_, k) => from + k))).toEqual(
      worked,
    );
  }
});
