import { describe, expect, test } from 'vitest';
import { check } from '../../../src/engine/check/check.ts';
import { measure } from '../../../src/engine/check/objective.ts';
import { validate } from '../../../src/engine/problem/validate.ts';
import { twoCarDay, twoCarPlan } from './two-car-day.ts';

describe('a hand-made plan that obeys every rule', () => {
  test('is of a valid problem', () => {
    expect(validate(twoCarDay)).toEqual([]);
  });

  test('passes the checker', () => {
    expect(check(twoCarDay, twoCarPlan)).toEqual([]);
  });

  test('costs what it costs by hand', () => {
    // Promise at 2400 kept (pickup 2205). Due at 700, pickup 765, weight 2: 130. No work in 2400-2520. Lead: cure ends at
    // 2185, drop-off 480: 1705; wash ends at 665, drop-off 585: 80. The last end is 2245.
    expect(measure(twoCarDay, twoCarPlan)).toEqual([0, 130, 0, 1785, 2245]);
  });
});
