import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { planSent, planToSend } from '../../../src/shop/planning/sent-plan.ts';
import type { Plan } from '../../../src/trade/model/plan.ts';
import { inOrder } from '../../../src/trade/model/plan-way.ts';
import { randomPlan } from '../../trade/model/random-plan.ts';

const version = (plan: Omit<Plan, 'version'>, number: number): Plan => ({ ...plan, version: number });

describe('a plan sent from one thread to another', () => {
  test('is the same plan where it arrives, whatever stood before', () => {
    fc.assert(
      fc.property(fc.option(randomPlan), randomPlan, (before, after) => {
        const standing = before === null ? null : version(before, 6);
        const plan = version(after, 7);
        const sent = structuredClone(planToSend(plan, standing));
        expect(planSent(sent, standing)).toEqual({ ...plan, ...inOrder(plan) });
      }),
      { seed: 11, numRuns: 200 },
    );
  });

  test('takes along nothing of what stays as it was', () => {
    fc.assert(
      fc.property(randomPlan, (before) => {
        const standing = version(before, 6);
        const { about, change } = planToSend({ ...structuredClone(standing), reason: 'once more' }, standing);
        expect(change).toEqual({ operations: [], operationsGone: [], stays: [], jobs: [], jobsGone: [] });
        const arrived = planSent({ about, change }, standing);
        expect(arrived.reason).toBe('once more');
        expect(new Set(arrived.operations)).toEqual(new Set(standing.operations));
        expect(arrived.operations.every((work) => standing.operations.includes(work))).toBe(true);
      }),
      { seed: 11, numRuns: 50 },
    );
  });
});
