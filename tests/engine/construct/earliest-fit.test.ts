import { describe, expect, test } from 'vitest';
import { NEVER } from '../../../src/engine/calendar/never.ts';
import { ANY_CREW, EarliestFit } from '../../../src/engine/construct/earliest-fit.ts';
import type { Mode, Operation, Problem } from '../../../src/engine/problem/problem.ts';
import { blankProblem, work } from '../random/blank-problem.ts';
import { bookOf, DAY, dayWorker } from './small-shop.ts';

function earliest(problem: Problem, from = 0): { start: number; end: number; mode: number } | null {
  const book = bookOf(problem);
  const fit = new EarliestFit(book);
  const operation = book.jobs[0]!.operations[0]!;
  const found = fit.find(operation, -1, from, 0, NEVER, problem.horizon, ANY_CREW);
  return found ? { start: fit.start, end: fit.end, mode: fit.mode } : null;
}

function oneOperation(modes: readonly Mode[], given: Partial<Operation>, shop: Partial<Problem>): Problem {
  return blankProblem({
    jobs: [{ name: 'job', stays: [], release: 0 }],
    operations: [work('work', 0, 0, { modes, ...given })],
    ...shop,
  });
}

describe('hands-on work', () => {
  const polishers = [dayWorker('a', 3), dayWorker('b', 3)];
  const byEither = (minutes: number): Mode[] =>
    [0, 1].map((resource) => ({ work: minutes, uses: [{ resource, amount: 100 }] }));

  test('takes whoever is done with it first', () => {
    const taken = [{ resource: 0, amount: 100, from: 480, to: 600 }];
    expect(earliest(oneOperation(byEither(60), {}, { resources: polishers, takenResources: taken }))).toEqual({
      start: 480,
      end: 540,
      mode: 1,
    });
  });

  test('waits for the morning when what is left of the day is too short', () => {
    expect(earliest(oneOperation(byEither(60), {}, { resources: polishers }), 970)).toMatchObject({ start: DAY + 480 });
  });

  test('goes on beside a watch of 30 % of the person only when it takes no more than the other 70 %', () => {
    const taken = [0, 1].map((resource) => ({ resource, amount: 30, from: 480, to: 700 }));
    const shop = { resources: polishers, takenResources: taken };
    expect(earliest(oneOperation(byEither(60), {}, shop))!.start).toBe(700);
    const light: Mode[] = [{ work: 60, uses: [{ resource: 0, amount: 70 }] }];
    expect(earliest(oneOperation(light, {}, shop))!.start).toBe(480);
  });

  test('starts when it may end: inside one of the spans its conditions allow', () => {
    const modes = byEither(60).map((mode) => ({
      ...mode,
      allowed: [
        { from: 500, to: 550 },
        { from: 700, to: 760 },
      ],
    }));
    expect(earliest(oneOperation(modes, {}, { resources: polishers }))).toMatchObject({ start: 700, end: 760 });
  });
});

describe('machine polishing', () => {
  const shift = { at: [480, 1020, DAY + 480, DAY + 1020], rate: [1, 0, 1, 0] };
  const windows = [
    { from: 0, to: DAY },
    { from: DAY, to: 2 * DAY },
  ];
  const polish: Mode[] = [{ work: 400, progress: 0, budget: 0, uses: [{ resource: 0, amount: 100 }] }];
  const shop = {
    resources: [dayWorker('a', 2)],
    progresses: [shift],
    budgets: [{ name: 'polishing', windows, limit: 330 }],
  };

  test('stops at the daily limit and goes on next morning', () => {
    expect(earliest(oneOperation(polish, { pausable: true }, shop))).toMatchObject({ start: 480, end: DAY + 550 });
  });

  test('starts later when another car has used part of the limit', () => {
    // 200 of the day's 330 minutes are gone: only the last 130 minutes of the shift may be worked.
    const problem = oneOperation(polish, { pausable: true }, shop);
    const book = bookOf(problem);
    book.drawn[0] = 200;
    const fit = new EarliestFit(book);
    expect(fit.find(book.jobs[0]!.operations[0]!, -1, 0, 0, NEVER, problem.horizon, ANY_CREW)).toBe(true);
    expect(fit.start).toBe(1020 - 130);
    expect(fit.end).toBe(DAY + 480 + 270);
  });

  test('has a first piece worth starting, and no pause longer than allowed', () => {
    const given = { pausable: true, leastFirstPiece: 60 };
    expect(earliest(oneOperation(polish, given, shop), 1000)).toBeNull();
    const short: Mode[] = [{ ...polish[0]!, work: 300 }];
    expect(earliest(oneOperation(short, given, shop), 1000)!.start).toBe(DAY + 480);
    expect(earliest(oneOperation(short, { pausable: true, longestPause: 600 }, shop), 900)!.start).toBe(DAY + 480);
  });

  test('that must not pause has no time when it is longer than the limit', () => {
    expect(earliest(oneOperation(polish, {}, shop))).toBeNull();
  });
});
