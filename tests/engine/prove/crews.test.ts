import { describe, expect, it } from 'vitest';
import type { Problem } from '../../../src/engine/problem/problem.ts';
import { blankProblem, endToStart, work } from '../random/blank-problem.ts';
import { bestPlan, lastEnd } from './proved-visits.ts';

const person = (name: string, given = {}) => ({ name, capacity: 100, kind: 'person' as const, ...given });
const by = (resource: number, minutes: number) => ({ work: minutes, uses: [{ resource, amount: 100 }] });

/** Acid by either of two people, rinsed 4 to 6 minutes later by either; and a call of 3 minutes for the first of them. */
function acidAndRinse(held: boolean, given: Partial<Problem> = {}): Problem {
  return blankProblem({
    horizon: 60,
    resources: [person('first'), person('second')],
    jobs: [{ name: 'car', stays: [], release: 0 }],
    operations: [
      work('acid', 0, 2, { modes: [by(0, 2), by(1, 9)] }),
      work('rinse', 0, 2, { modes: [by(0, 2), by(1, 1)] }),
      work('call', 0, 3, { modes: [by(0, 3)] }),
    ],
    lags: [endToStart(0, 1, 4, 6)],
    sameCrew: [{ first: 0, second: 1, held }],
    ...given,
  });
}

describe('the same people', () => {
  it('do both: the second, quicker at rinsing, is not taken for it alone', () => {
    const plan = bestPlan(acidAndRinse(false));
    expect(plan!.operations[0]!.mode).toBe(plan!.operations[1]!.mode);
    // The call is made between the two.
    expect(lastEnd(acidAndRinse(false))).toBe(8);
    expect(lastEnd(acidAndRinse(false, { sameCrew: [] }))).toBe(7);
  });

  it('held between the two make no call meanwhile', () => {
    expect(lastEnd(acidAndRinse(true))).toBe(11);
  });

  it('are held in their hours only', () => {
    const hours = [
      { from: 0, to: 4 },
      { from: 6, to: 30 },
    ];
    const resources = [person('first', { open: hours }), person('second', { open: [{ from: 0, to: 1 }] })];
    expect(bestPlan(acidAndRinse(true, { resources }))!.operations[0]!.start).toBeGreaterThanOrEqual(6);
    expect(bestPlan(acidAndRinse(false, { resources }))!.operations[0]!.start).toBeLessThan(4);
  });
});
