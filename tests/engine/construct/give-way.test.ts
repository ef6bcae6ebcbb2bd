import { describe, expect, it } from 'vitest';
import { check } from '../../../src/engine/check/check.ts';
import { type GiveWayOptions, giveWay } from '../../../src/engine/construct/give-way.ts';
import { JobInserter } from '../../../src/engine/construct/insert-job.ts';
import { THOROUGH } from '../../../src/engine/construct/insert-options.ts';
import { scheduleOf } from '../../../src/engine/construct/schedule-of.ts';
import type { Problem } from '../../../src/engine/problem/problem.ts';
import { blankProblem, work } from '../random/blank-problem.ts';
import { bookOf } from './small-shop.ts';

/** One bay; each car needs it for 100 minutes and is promised for a minute, or not at all. */
function oneBay(promisedAt: readonly (number | null)[], horizon = 2_000): Problem {
  return blankProblem({
    horizon,
    places: [{ name: 'bay', turnaround: 0, blockedBy: [] }],
    jobs: promisedAt.map((at, job) => ({
      name: `car ${job}`,
      stays: [job],
      release: 0,
      arrival: job,
      ready: job,
      ...(at === null ? {} : { promise: { at, weight: 1 } }),
    })),
    stays: promisedAt.map((_, job) => ({ job, places: [0], optional: false })),
    operations: promisedAt.map((_, job) => work(`work ${job}`, job, 100, { stay: job })),
  });
}

function entered(problem: Problem, jobs: readonly number[]) {
  const book = bookOf(problem);
  const inserter = new JobInserter(book);
  for (const j of jobs) book.enter(j, inserter.insert(j, THOROUGH)!);
  return { book, inserter };
}

function asked(near: readonly number[], latestPickup: number, more: Partial<GiveWayOptions> = {}): GiveWayOptions {
  const anything = { mostWork: 10_000, notBefore: 0, mayBeReadyAt: () => true, accepts: () => true };
  return { near, latestPickup, ...anything, ...more };
}

describe('giving way to one more car', () => {
  it('is done by the one whose promise leaves it time', () => {
    // 0: [0, 100) promised for 100; 1: [100, 200) promised for 400. Without moving anybody car 2 is ready at 300.
    const problem = oneBay([100, 400, null]);
    const { book, inserter } = entered(problem, [0, 1]);
    expect(giveWay(book, inserter, 2, asked([0, 1], 200))).toEqual([1]);
    const schedule = scheduleOf(book);
    expect(schedule.operations.map((each) => each!.start)).toEqual([0, 200, 100]);
    expect(check(problem, schedule)).toEqual([]);
  });

  it('is done by two, the second for the first', () => {
    // Car 0 can move into [100, 200) but no later, car 1 anywhere: car 2 gets [0, 100).
    const { book, inserter } = entered(oneBay([200, 400, null]), [0, 1]);
    expect(giveWay(book, inserter, 2, asked([0, 1], 100))).toEqual([0, 1]);
    expect(scheduleOf(book).operations.map((each) => each!.start)).toEqual([100, 200, 0]);
  });

  it('is asked of nobody who would be picked up after the promise, and the book is left as it was', () => {
    const { book, inserter } = entered(oneBay([100, 200, null]), [0, 1]);
    const before = book.plans.slice();
    expect(giveWay(book, inserter, 2, asked([0, 1], 200))).toBeNull();
    expect(book.plans).toEqual(before);
  });

  it('is taken back when whoever asked does not accept it, and others are asked', () => {
    const { book, inserter } = entered(oneBay([400, 400, null]), [0, 1]);
    const offered: (readonly number[])[] = [];
    const accepts = (moved: readonly number[]) => {
      offered.push(moved);
      return moved.includes(1);
    };
    expect(giveWay(book, inserter, 2, asked([0, 1], 200, { accepts }))).toEqual([1]);
    expect(offered).toEqual([[0], [1]]);
    const sieve = { mayBeReadyAt: (job: number) => job !== 1 };
    book.withdraw(2);
    expect(giveWay(book, inserter, 2, asked([0, 1], 100, sieve))).toEqual([0]);
  });

  it('is asked of nobody when no work is left', () => {
    const { book, inserter } = entered(oneBay([100, 400, null]), [0, 1]);
    expect(giveWay(book, inserter, 2, asked([0, 1], 200, { mostWork: 0 }))).toBeNull();
  });
});
