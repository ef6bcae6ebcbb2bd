import fc from 'fast-check';
import { expect, test } from 'vitest';
import { PlanChange } from '../../../src/trade/model/plan-change.ts';
import { afterChange, inOrder, wayBetween } from '../../../src/trade/model/plan-way.ts';
import { randomPlan } from './random-plan.ts';

test('the way from one plan to another leads there, and back again, also when it was written down between', () => {
  fc.assert(
    fc.property(randomPlan, randomPlan, (one, other) => {
      const { there, back } = wayBetween(one, other);
      const read = (change: PlanChange) => PlanChange.parse(JSON.parse(JSON.stringify(change)));
      expect(afterChange(one, read(there))).toEqual(inOrder(other));
      expect(afterChange(other, read(back))).toEqual(inOrder(one));
    }),
    { seed: 7, numRuns: 500 },
  );
});

test('the way to an equal plan is no change, and work that stays is the very same work', () => {
  fc.assert(
    fc.property(randomPlan, (plan) => {
      const { there } = wayBetween(plan, structuredClone(plan));
      expect(there).toEqual({ operations: [], operationsGone: [], stays: [], jobs: [], jobsGone: [] });
      const after = afterChange(plan, there);
      expect(after.operations.every((work) => plan.operations.includes(work))).toBe(true);
    }),
    { seed: 7, numRuns: 100 },
  );
});

test('only what differs is changed', () => {
  const [one] = fc.sample(randomPlan, { seed: 3, numRuns: 50 }).filter((plan) => plan.operations.length > 2);
  const [first, ...others] = one!.operations;
  const later = { ...first!, label: 'told otherwise' };
  const { there, back } = wayBetween(one!, { ...one!, operations: [later, ...others.slice(1)] });
  expect(there.operations).toEqual([later]);
  expect(there.operationsGone).toEqual([{ jobId: others[0]!.jobId, operation: others[0]!.operation }]);
  expect(there.stays).toEqual([]);
  expect(back.operations).toEqual([first, others[0]]);
  expect(back.operationsGone).toEqual([]);
});
