import { expect, test } from 'vitest';
import { LateAcceptance } from '../../../src/engine/improve/late-acceptance.ts';
import { compareTiers } from '../../../src/engine/improve/tiers.ts';

const tiers = (...values: number[]) => Float64Array.from(values);

test('an earlier tier decides before a later one', () => {
  expect(compareTiers([0, 900], [1, 0])).toBeLessThan(0);
  expect(compareTiers([1, 3], [1, 2])).toBeGreaterThan(0);
  expect(compareTiers([1, 2], [1, 2])).toBe(0);
});

test('a plan is taken that is no worse than the one some steps ago', () => {
  const acceptance = new LateAcceptance(2, tiers(1, 10));
  expect([...acceptance.limit(tiers(0, 50))]).toEqual([1, 10]);
  acceptance.step(tiers(0, 50));
  acceptance.step(tiers(0, 40));
  expect([...acceptance.limit(tiers(0, 40))]).toEqual([0, 50]);
  acceptance.step(tiers(0, 40));
  expect([...acceptance.limit(tiers(0, 45))]).toEqual([0, 45]);
});
