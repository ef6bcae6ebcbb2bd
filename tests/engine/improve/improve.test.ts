import { describe, expect, test } from 'vitest';
import { ShopBound } from '../../../src/engine/bound/bound.ts';
import { check } from '../../../src/engine/check/check.ts';
import { BY_SLACK, firstPlan } from '../../../src/engine/construct/first-plan.ts';
import { JobInserter } from '../../../src/engine/construct/insert-job.ts';
import { scheduleOf } from '../../../src/engine/construct/schedule-of.ts';
import { improve } from '../../../src/engine/improve/improve.ts';
import { compareTiers } from '../../../src/engine/improve/tiers.ts';
import type { Problem } from '../../../src/engine/problem/problem.ts';
import { makeBook } from '../../bench/books/book.ts';
import { bookOf } from '../construct/small-shop.ts';
import { blankProblem, work } from '../random/blank-problem.ts';

/** One bay, washes of given length, weights of their due dates: total weighted tardiness on one machine. */
function oneBay(minutes: number[], due: number[], weight: number[]): Problem {
  return blankProblem({
    places: [{ name: 'bay', turnaround: 0, blockedBy: [] }],
    jobs: minutes.map((_, j) => ({
      name: `car ${j}`,
      stays: [j],
      release: 0,
      ready: j,
      due: { at: due[j]!, weight: weight[j]! },
    })),
    stays: minutes.map((_, j) => ({ job: j, places: [0], optional: false })),
    operations: minutes.map((each, j) => work('wash', j, each, { stay: j })),
    tiers: ['tardiness'],
  });
}

/** Least total weighted tardiness over all orders. */
function leastTardiness(minutes: number[], due: number[], weight: number[]): number {
  let least = Number.POSITIVE_INFINITY;
  const visit = (left: number[], at: number, cost: number) => {
    if (cost >= least) return;
    if (left.length === 0) least = cost;
    for (const j of left) {
      const end = at + minutes[j]!;
      visit(
        left.filter((other) => other !== j),
        end,
        cost + weight[j]! * Math.max(0, end - due[j]!),
      );
    }
  };
  visit([...minutes.keys()], 0, 0);
  return least;
}

describe('ruin and recreate', () => {
  test('finds the best order of seven cars in one bay, as trying all orders does', () => {
    const cases = [
      { minutes: [30, 70, 45, 20, 90, 55, 40], due: [100, 150, 60, 300, 120, 200, 90], weight: [1, 3, 2, 1, 2, 1, 4] },
      { minutes: [80, 25, 60, 35, 50, 15, 95], due: [70, 40, 250, 60, 100, 20, 330], weight: [2, 1, 1, 5, 2, 3, 1] },
    ];
    for (const { minutes, due, weight } of cases) {
      const book = bookOf(oneBay(minutes, due, weight));
      const inserter = new JobInserter(book);
      firstPlan(book, inserter, BY_SLACK, () => false);
      improve(book, inserter, {
        fromNothing: false,
        seed: 3,
        workLimit: 20_000,
        stop: () => false,
        onBetter: () => {},
        isSound: () => true,
        bound: new ShopBound(book.shop, book.jobs),
      });
      const found = new Float64Array(1);
      book.objective(found);
      expect(found[0]).toBe(leastTardiness(minutes, due, weight));
    }
  });

  test('leaves the best plan in the book, and nothing of what it tried', () => {
    const problem = makeBook({ seed: 7, jobs: 10, bays: 4, people: 5 });
    const book = bookOf(problem);
    const inserter = new JobInserter(book);
    firstPlan(book, inserter, BY_SLACK, () => false);
    let best: Float64Array | null = null;
    improve(book, inserter, {
      fromNothing: false,
      seed: 1,
      workLimit: 150_000,
      stop: () => false,
      onBetter: (objective) => {
        if (best !== null) expect(compareTiers(objective, best)).toBeLessThan(0);
        best = objective.slice();
      },
      isSound: () => true,
      bound: new ShopBound(book.shop, book.jobs),
    });
    const left = new Float64Array(problem.tiers.length);
    book.objective(left);
    expect(best).not.toBeNull();
    expect(left).toEqual(best);
    expect(check(problem, scheduleOf(book))).toEqual([]);
    for (const j of book.jobs.keys()) book.withdraw(j);
    const fresh = bookOf(problem);
    for (let row = 0; row < book.shop.rows; row++) expect(book.levels.steps(row)).toEqual(fresh.levels.steps(row));
    expect([...book.drawn].every((minutes) => minutes === 0)).toBe(true);
  });
});
