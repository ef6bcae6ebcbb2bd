import { describe, expect, it } from 'vitest';
import { check } from '../../../src/engine/check/check.ts';
import type { Problem } from '../../../src/engine/problem/problem.ts';
import type { Schedule } from '../../../src/engine/problem/solution.ts';
import { solve } from '../../../src/engine/solve.ts';
import { realise } from '../../../src/promise/simulate/realise.ts';
import type { SimulationInput } from '../../../src/promise/simulate/simulation-input.ts';
import { fromMoments } from '../../../src/promise/spread/log-normal.ts';
import { formulate } from '../../../src/trade/formulate/formulate.ts';
import { asOf } from '../../bench/books/as-of.ts';
import { makeBook } from '../../bench/books/book.ts';
import { aJob } from '../../trade/formulate/a-job.ts';
import { seedShop } from '../../trade/formulate/seed-shop.ts';

/** Enough that work begun minutes before the evening ends a little after it in some of them. */
const SCENARIOS = 300;

function planOf(problem: Problem): Schedule {
  const { schedule } = solve(problem, { seed: 1, workLimit: 0 });
  expect(schedule).not.toBeNull();
  expect(check(problem, schedule!)).toEqual([]);
  return schedule!;
}

/**
 * The checker reads the worked pieces of a fact off its mode, as if its budget were its own; work that overran what
 * others had left of a daily budget paused earlier than that, which a fact cannot say. A remedy in a place the plan does
 * not go to (a wash before a second wipe) is replayed as time only.
 */
function judged({ problem, schedule, overran, brokenWindows, withoutPlace }: ReturnType<typeof realise>): string[] {
  const violations = check(problem, schedule);
  const unjust = violations.filter(
    ({ rule, operations }) =>
      (rule === 'budget' && operations.some((o) => overran.includes(o))) ||
      (rule === 'work-without-stay' && operations.every((o) => withoutPlace.includes(o))) ||
      (rule === 'lag-max' && brokenWindows > 0),
  );
  expect(unjust.filter(({ rule }) => rule === 'lag-max').length).toBeLessThanOrEqual(brokenWindows);
  return violations.filter((violation) => !unjust.includes(violation)).map(({ text }) => text);
}

function inputOf(problem: Problem, schedule: Schedule, deviation: number): SimulationInput {
  const factor = deviation === 0 ? { logMean: 0, logDeviation: 0 } : fromMoments(1.04, deviation ** 2);
  return { problem, schedule, factors: problem.operations.map(() => factor), scenarios: 1, seed: 21 };
}

describe.each([
  { seed: 5, jobs: 10, bays: 4, people: 6 },
  { seed: 9, jobs: 24, bays: 5, people: 8 },
])('a replayed book of $jobs jobs', (size) => {
  const problem = makeBook(size);

  it('is no later than planned when everything takes as long as planned', () => {
    const schedule = planOf(problem);
    const { schedule: done } = realise(inputOf(problem, schedule, 0), 0);
    for (const [o, operation] of done.operations.entries()) {
      const before = schedule.operations[o]!;
      // Work that starts earlier than planned may spare a remedy; nothing else comes or goes.
      if (operation === null) expect(before === null || problem.operations[o]!.presence === 'optional').toBe(true);
      else expect(operation.start).toBeLessThanOrEqual(before.start);
    }
    expect(check(problem, done)).toEqual([]);
  });

  it('obeys every rule of the checker in every scenario, but for what an overrun made a fact', () => {
    const schedule = planOf(problem);
    let overran = 0;
    for (const deviation of [0.08, 0.25]) {
      for (let scenario = 0; scenario < SCENARIOS; scenario++) {
        const realisation = realise(inputOf(problem, schedule, deviation), scenario);
        expect(judged(realisation)).toEqual([]);
        overran += realisation.overran.length;
      }
    }
    // Most of the plan is judged, not excused.
    expect(overran / (2 * SCENARIOS) / problem.operations.length).toBeLessThan(0.15);
  });
});

describe('a book in the middle of its plan', () => {
  it('is replayed from what has happened, and obeys the checker', () => {
    const book = makeBook({ seed: 5, jobs: 10, bays: 4, people: 6 });
    const problem = asOf(book, planOf(book), 3 * 1440 + 700, 25);
    const schedule = planOf(problem);
    for (let scenario = 0; scenario < SCENARIOS; scenario++) {
      const realisation = realise(inputOf(problem, schedule, 0.2), scenario);
      expect(judged(realisation)).toEqual([]);
      for (const [o, { fixed }] of problem.operations.entries()) {
        if (fixed?.by === 'fact') expect(realisation.schedule.operations[o]!.start).toBe(fixed.start);
      }
    }
  });
});

describe('the demo shop’s own recipes, replayed', () => {
  const book = seedShop();
  const jobs = book.recipes.map(({ id }) => aJob(id, { id: `job-${id}` }));
  const { problem } = formulate({ ...book, jobs });

  it('obey every rule of the checker in every scenario, but for what an overrun made a fact', () => {
    const schedule = planOf(problem);
    expect(check(problem, realise(inputOf(problem, schedule, 0), 0).schedule)).toEqual([]);
    let overran = 0;
    for (const deviation of [0.08, 0.2]) {
      for (let scenario = 0; scenario < SCENARIOS; scenario++) {
        const realisation = realise(inputOf(problem, schedule, deviation), scenario);
        expect(judged(realisation)).toEqual([]);
        overran += realisation.overran.length;
      }
    }
    expect(overran / (2 * SCENARIOS) / problem.operations.length).toBeLessThan(0.15);
  });
});
