import { describe, expect, it } from 'vitest';
import type { Problem } from '../../../src/engine/problem/problem.ts';
import { blankProblem, endToStart, work } from '../random/blank-problem.ts';
import { bestPlan, lastEnd } from './proved-visits.ts';

const optional = { presence: 'optional' as const };

/** Wipe, then coat within 5 minutes or wipe again (3 minutes); the coat may start no earlier than told. */
function wipeAndCoat(coatFrom: number): Problem {
  return blankProblem({
    horizon: 60,
    jobs: [{ name: 'car', stays: [], release: 0 }],
    operations: [
      work('wipe', 0, 2, { deadline: 2 }),
      work('coat', 0, 4, { release: coatFrom }),
      work('wipe again', 0, 3, optional),
    ],
    lags: [{ ...endToStart(0, 1, 0, 5), remedy: [2] }, endToStart(0, 2), endToStart(2, 1, 0, 0)],
  });
}

describe('optional work', () => {
  it('a remedy is absent while the maximum holds, and there when it has lapsed', () => {
    expect(bestPlan(wipeAndCoat(7))!.operations[2]).toBeNull();
    const lapsed = bestPlan(wipeAndCoat(9));
    expect(lapsed!.operations[2]).toEqual({ start: 6, end: 9, mode: 0 });
  });

  it('one bundle of a branch is there, the shorter when that is better, and nothing of the other', () => {
    const problem = blankProblem({
      horizon: 60,
      jobs: [{ name: 'car', stays: [], release: 0 }],
      operations: [
        work('coat', 0, 2),
        work('wait', 0, 20, optional),
        work('lamps', 0, 5, optional),
        work('cool', 0, 1, optional),
      ],
      lags: [endToStart(0, 1), endToStart(0, 2), endToStart(2, 3)],
      branches: [{ name: 'cure', alternatives: [[1], [2, 3]] }],
    });
    const plan = bestPlan(problem);
    expect(plan!.operations.map((planned) => planned !== null)).toEqual([true, false, true, true]);
    expect(lastEnd(problem)).toBe(8);
    // With no lamps to be had in time, the car waits.
    const late = problem.operations.map((each, o) => (o === 2 ? { ...each, deadline: 5 } : each));
    expect(lastEnd({ ...problem, operations: late })).toBe(22);
  });

  it('that nothing demands is absent', () => {
    const problem = blankProblem({
      jobs: [{ name: 'car', stays: [], release: 0 }],
      operations: [work('wash', 0, 2), work('extra', 0, 1, optional)],
    });
    expect(bestPlan(problem)!.operations[1]).toBeNull();
  });
});
