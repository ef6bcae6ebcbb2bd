import { describe, expect, test } from 'vitest';
import { validate } from '../../../src/engine/problem/validate.ts';
import { randomShop } from './random-shop.ts';

describe('random shops', () => {
  test('are valid problems and pure functions of their seeds', () => {
    for (let seed = 0; seed < 300; seed++) {
      const problem = randomShop(seed);
      expect(validate(problem), `seed ${seed}`).toEqual([]);
      expect(problem).toEqual(randomShop(seed));
      expect(problem.jobs.length).toBeGreaterThanOrEqual(2);
    }
    expect(randomShop(1)).not.toEqual(randomShop(2));
  });
});
