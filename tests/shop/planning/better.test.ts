import { expect, test } from 'vitest';
import { isBetter } from '../../../src/shop/planning/better.ts';

const objective = (broken: number, tardiness: number, change: number) => [
  { tier: 'broken', value: broken, bound: 0 },
  { tier: 'tardiness', value: tardiness, bound: 0 },
  { tier: 'change', value: change, bound: 0 },
];

test('a plan that keeps one more promise is better, however late the rest', () => {
  expect(isBetter(objective(0, 900, 0), objective(1, 0, 0))).toBe(true);
  expect(isBetter(objective(1, 0, 0), objective(0, 900, 0))).toBe(false);
});

test('of two equal plans neither is better, whatever they changed', () => {
  expect(isBetter(objective(0, 5, 10), objective(0, 5, 900))).toBe(false);
});
