import { describe, expect, test } from 'vitest';
import { completion, workedPieces } from '../../../src/engine/check/worked-pieces.ts';
import type { Budget, Mode, Progress } from '../../../src/engine/problem/problem.ts';
import { blankProblem } from '../random/blank-problem.ts';
import { type SeededRandom, seededRandom } from '../random/seeded-random.ts';

const END = 400;

function randomProgress(random: SeededRandom): Progress {
  const at: number[] = [];
  for (let minute = random.whole(0, 20); minute < END; minute += random.whole(1, 60)) at.push(minute);
  return { at, rate: at.map(() => (random.chance(0.4) ? 0 : random.whole(1, 3))) };
}

function randomBudget(random: SeededRandom): Budget {
  const windows: { from: number; to: number }[] = [];
  for (let from = random.whole(0, 30); from < END; from += random.whole(60, 100)) {
    windows.push({ from, to: from + random.whole(20, 60) });
  }
  return { name: 'machine hours', windows, limit: random.whole(1, 30) };
}

/** The worked minutes, found by asking every minute in turn for its rate and for what the window has left. */
function minuteByMinute(progress: Progress, budget: Budget | undefined, work: number, start: number) {
  const minutes: number[] = [];
  const drawn = new Map<number, number>();
  let left = work;
  for (let minute = start; minute < END && left > 0; minute++) {
    const piece = progress.at.findLastIndex((at) => at <= minute);
    const rate = piece < 0 ? 0 : progress.rate[piece]!;
    const window = budget?.windows.findIndex(({ from, to }) => from <= minute && minute < to) ?? -1;
    if (rate === 0 || (window >= 0 && (drawn.get(window) ?? 0) >= budget!.limit)) continue;
    if (window >= 0) drawn.set(window, (drawn.get(window) ?? 0) + 1);
    minutes.push(minute);
    left -= rate;
  }
  return { minutes, end: left > 0 ? undefined : (minutes.at(-1) ?? start - 1) + 1 };
}

describe('the end of work', () => {
  test('comes when the minutes counted one by one have done it, with and without a budget', () => {
    const random = seededRandom(5);
    let finished = 0;
    let paused = 0;
    for (let round = 0; round < 2000; round++) {
      const progress = randomProgress(random);
      const budget = random.chance(0.5) ? randomBudget(random) : undefined;
      const mode: Mode = { work: random.whole(1, 150), progress: 0, uses: [], ...(budget ? { budget: 0 } : {}) };
      const problem = blankProblem({ progresses: [progress], budgets: budget ? [budget] : [] });
      const start = random.whole(0, 150);
      const expected = minuteByMinute(progress, budget, mode.work, start);
      if (expected.end === undefined) continue;
      finished++;
      expect(completion(problem, mode, start)).toBe(expected.end);
      const pieces = workedPieces(problem, mode, start, expected.end);
      if (pieces.length > 1) paused++;
      const minutes = pieces.flatMap(({ from, to }) => Array.from({ length: to - from }, (_, k) => from + k));
      expect(minutes).toEqual(expected.minutes);
      expect(pieces.every(({ from }, k) => k === 0 || from > pieces[k - 1]!.to)).toBe(true);
    }
    expect(finished).toBeGreaterThan(500);
    expect(paused).toBeGreaterThan(200);
  });

  test('never comes when the progress stops short of the work', () => {
    const problem = blankProblem({ progresses: [{ at: [0, 10], rate: [1, 0] }] });
    expect(completion(problem, { work: 11, progress: 0, uses: [] }, 0)).toBeUndefined();
    expect(completion(problem, { work: 10, progress: 0, uses: [] }, 0)).toBe(10);
  });

  test('of a milestone is its start, at any minute', () => {
    const problem = blankProblem({ progresses: [{ at: [0, 10], rate: [1, 0] }] });
    expect(completion(problem, { work: 0, progress: 0, uses: [] }, 50)).toBe(50);
    expect(workedPieces(problem, { work: 0, progress: 0, uses: [] }, 5, 5)).toEqual([]);
  });

  test('of a cure in the cold takes as many minutes as its slower rates need', () => {
    // 600 thousandths a minute until 100, then 300: 90 000 thousandths take 100 minutes and 100 more.
    const problem = blankProblem({ progresses: [{ at: [0, 100], rate: [600, 300] }] });
    expect(completion(problem, { work: 90_000, progress: 0, uses: [] }, 0)).toBe(200);
  });
});
