import { describe, expect, it } from 'vitest';
import { provable } from '../../../src/engine/prove/provable.ts';
import { prove } from '../../../src/engine/prove/prove.ts';
import { strategyOf } from '../../../src/engine/prove/strategy.ts';
import { enumerate } from './enumeration.ts';
import { type Flavour, randomProblem } from './random-problem.ts';

const flavours: readonly Flavour[] = [
  { operations: 4, horizon: 9, modes: false, calendars: false, maximumLags: true, tiers: ['makespan'] },
  { operations: 3, horizon: 9, modes: true, calendars: true, maximumLags: true, tiers: ['tardiness', 'makespan'] },
];

describe('strategies of a proof', () => {
  for (const k of [0, 1, 2, 3, 5]) {
    it(`number ${k} agrees with trying every plan`, () => {
      let feasible = 0;
      for (const flavour of flavours) {
        for (let seed = 1; seed <= 50; seed++) {
          const problem = randomProblem(seed, flavour);
          if (!provable(problem)) continue;
          const best = enumerate(problem);
          const solution = prove(problem, { seed, workLimit: 10_000_000 }, strategyOf(k));
          expect(solution.status, `seed ${seed}`).toBe(best === undefined ? 'infeasible' : 'optimal');
          expect(solution.objective, `seed ${seed}`).toEqual(best ?? null);
          if (best !== undefined) feasible++;
        }
      }
      expect(feasible).toBeGreaterThan(20);
    });
  }

  it('are all different', () => {
    const all = Array.from({ length: 12 }, (_, k) => JSON.stringify(strategyOf(k)));
    expect(new Set(all).size).toBe(12);
  });
});
