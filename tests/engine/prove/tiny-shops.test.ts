import { describe, expect, it } from 'vitest';
import { check } from '../../../src/engine/check/check.ts';
import { measure } from '../../../src/engine/check/objective.ts';
import { validate } from '../../../src/engine/problem/validate.ts';
import { unprovable } from '../../../src/engine/prove/provable.ts';
import { prove } from '../../../src/engine/prove/prove.ts';
import { bestOfShop } from './enumerate-shop.ts';
import { tinyShop } from './tiny-shop.ts';

const SHOPS = 24;
const MOST_PAIRS = 20_000;

describe('a proof agrees with trying every plan', () => {
  it('of two cars in a tiny shop: places, moves, people, pauses, air, optional work', () => {
    let optimal = 0;
    let infeasible = 0;
    for (let seed = 1; seed <= SHOPS; seed++) {
      const problem = tinyShop(seed);
      if (validate(problem).length > 0) continue;
      expect(unprovable(problem), `seed ${seed}`).toBeUndefined();
      const best = bestOfShop(problem, MOST_PAIRS);
      if (best === null) continue;
      const solution = prove(problem, { seed, workLimit: 50_000_000 });
      if (best === undefined) {
        infeasible++;
        expect(solution.status, `seed ${seed}`).toBe('infeasible');
        continue;
      }
      optimal++;
      expect(solution.status, `seed ${seed}`).toBe('optimal');
      expect(solution.objective, `seed ${seed}`).toEqual(best);
      expect(solution.bound).toEqual(best);
      expect(check(problem, solution.schedule!), `seed ${seed}`).toEqual([]);
      expect(measure(problem, solution.schedule!)).toEqual(best);
    }
    expect(optimal).toBeGreaterThan(SHOPS / 4);
    expect(infeasible).toBeGreaterThan(SHOPS / 20);
  }, 180_000);
});
