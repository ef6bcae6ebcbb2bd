import { describe, expect, test } from 'vitest';
import { ShopBound } from '../../../src/engine/bound/bound.ts';
import type { Problem } from '../../../src/engine/problem/problem.ts';
import { bookOf, DAY, dayWorker, planned } from '../construct/small-shop.ts';
import { blankProblem, endToStart, work } from '../random/blank-problem.ts';

function boundOf(problem: Problem) {
  const book = bookOf(problem);
  return new ShopBound(book.shop, book.jobs);
}

const problem = blankProblem({
  resources: [dayWorker('coater', 5)],
  places: [{ name: 'bay', turnaround: 0, blockedBy: [] }],
  jobs: [{ name: 'car', stays: [0], release: 900, ready: 2, promise: { at: DAY + 900, weight: 2 } }],
  stays: [{ job: 0, places: [0], optional: false }],
  operations: [
    work('coat', 0, 90, { stay: 0, modes: [{ work: 90, uses: [{ resource: 0, amount: 100 }] }] }),
    work('cure', 0, 720, { stay: 0 }),
    work('inspection', 0, 30, { stay: 0, modes: [{ work: 30, uses: [{ resource: 0, amount: 100 }] }] }),
  ],
  lags: [endToStart(0, 1), endToStart(1, 2)],
  tiers: ['broken', 'tardiness', 'lead', 'makespan'],
});

describe('what no plan can beat', () => {
  test('is each job alone in the shop, in its hours', () => {
    // Coat 15:00 to 16:30, cure until 4:30, inspection from 8:00: ready at 8:30 next morning.
    const { tiers, jobs } = boundOf(problem);
    expect(jobs[0]!.pickup).toBe(DAY + 510);
    // Lead is bounded by the work and the cure alone: 90 + 720 + 30.
    expect([...tiers]).toEqual([0, 0, 840, DAY + 510]);
  });

  test('says which promise cannot be kept by anybody', () => {
    const hopeless = { ...problem, jobs: [{ ...problem.jobs[0]!, promise: { at: DAY, weight: 2 } }] };
    expect([...boundOf(hopeless).tiers].slice(0, 2)).toEqual([2, 1020]);
  });

  test('is reached by the plan when the job is alone', () => {
    expect(planned(problem).operations[2]!.end).toBe(DAY + 510);
  });

  test('names the operation that no longer fits before its deadline', () => {
    const late = {
      ...problem,
      operations: problem.operations.map((each, o) => (o === 1 ? { ...each, deadline: 1500 } : each)),
    };
    expect(boundOf(late).jobs[0]!.impossible).toBe(1);
    expect(boundOf(problem).jobs[0]!.impossible).toBe(-1);
  });
});
