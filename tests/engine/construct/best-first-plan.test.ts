import { describe, expect, test } from 'vitest';
import { ShopBound } from '../../../src/engine/bound/bound.ts';
import { check } from '../../../src/engine/check/check.ts';
import { bestFirstPlan } from '../../../src/engine/construct/best-first-plan.ts';
import { earliestPromise, leastSlack } from '../../../src/engine/construct/entry-order.ts';
import { firstPlan } from '../../../src/engine/construct/first-plan.ts';
import { JobInserter } from '../../../src/engine/construct/insert-job.ts';
import { BRIEF, QUICK } from '../../../src/engine/construct/insert-options.ts';
import { scheduleOf } from '../../../src/engine/construct/schedule-of.ts';
import { compareTiers } from '../../../src/engine/improve/tiers.ts';
import { makeBook } from '../../bench/books/book.ts';
import { bookOf } from './small-shop.ts';

const never = () => false;

describe('the first plan of a book', () => {
  test.each([1, 2, 3, 4])('is no worse than entering the cars by promise, or by slack (book %i)', (seed) => {
    const problem = makeBook({ seed, jobs: 20, bays: 4, people: 5 });
    const book = bookOf(problem);
    const best = new Float64Array(problem.tiers.length);
    expect(bestFirstPlan(book, new JobInserter(book), new ShopBound(book.shop, book.jobs), never)).toEqual([]);
    book.objective(best);
    for (const order of [earliestPromise, leastSlack(1, 7)]) {
      const other = bookOf(problem);
      expect(firstPlan(other, new JobInserter(other), { order, effort: BRIEF, rounds: 6 }, never)).toEqual([]);
      const objective = new Float64Array(problem.tiers.length);
      other.objective(objective);
      expect(compareTiers(best, objective)).toBeLessThanOrEqual(0);
    }
  });

  test('of a large book obeys every rule, and its cars are there for less time than if each came as soon as can be', () => {
    const problem = makeBook({ seed: 1, jobs: 320, bays: 12, people: 15 });
    const book = bookOf(problem);
    expect(bestFirstPlan(book, new JobInserter(book), new ShopBound(book.shop, book.jobs), never)).toEqual([]);
    expect(check(problem, scheduleOf(book))).toEqual([]);
    const soon = bookOf(problem);
    const entering = { order: leastSlack(3, 7), effort: QUICK, rounds: 6 };
    expect(firstPlan(soon, new JobInserter(soon), entering, never)).toEqual([]);
    const lead = problem.tiers.indexOf('lead');
    const objective = new Float64Array(problem.tiers.length);
    const other = new Float64Array(problem.tiers.length);
    book.objective(objective);
    soon.objective(other);
    expect(objective[lead]!).toBeLessThan(0.9 * other[lead]!);
  });

  test('is the same whenever it is made', () => {
    const problem = makeBook({ seed: 5, jobs: 12, bays: 4, people: 5 });
    const plans = [0, 1].map(() => {
      const book = bookOf(problem);
      bestFirstPlan(book, new JobInserter(book), new ShopBound(book.shop, book.jobs), never);
      return book.plans;
    });
    expect(plans[0]).toEqual(plans[1]);
  });
});

describe('cars are entered', () => {
  const { jobs } = bookOf(makeBook({ seed: 1, jobs: 1, bays: 4, people: 5 }));
  const job = { ...jobs[0]!, release: 1000, promiseAt: 40_000, dueAt: 50_000, leastMinutes: 3000 };

  test('by promise: at the earlier of what was promised and what is wanted', () => {
    expect(earliestPromise(job)).toBe(40_000);
    expect(earliestPromise({ ...job, dueAt: 30_000 })).toBe(30_000);
  });

  test('by slack: at the latest drop-off that leaves so many times their work, and some days after they may come at most', () => {
    expect(leastSlack(2, 30)(job)).toBe(34_000);
    expect(leastSlack(2, 7)(job)).toBe(1000 + 7 * 24 * 60);
  });
});
