import { describe, expect, test } from 'vitest';
import { check } from '../../../src/engine/check/check.ts';
import { solve } from '../../../src/engine/solve.ts';
import { MUTATORS } from './mutations.ts';
import { randomShop } from './random-shop.ts';
import { seededRandom } from './seeded-random.ts';

const SHOPS = 200;

describe('valid plans of random shops with one rule broken on purpose', () => {
  test('are refused, and the broken invariant is among those told', () => {
    const random = seededRandom(1);
    const seen = new Map<number, number>();
    for (let seed = 0; seed < SHOPS; seed++) {
      const problem = randomShop(90_000 + seed);
      const { schedule } = solve(problem, { seed, workLimit: 0 });
      if (schedule === null || check(problem, schedule).length > 0) continue;
      for (const mutate of MUTATORS) {
        const mutation = mutate(problem, schedule, random);
        if (mutation === undefined) continue;
        const told = check(problem, mutation.plan).map(({ invariant }) => invariant);
        expect(told, `seed ${90_000 + seed}`).toContain(mutation.invariant);
        seen.set(mutation.invariant, (seen.get(mutation.invariant) ?? 0) + 1);
      }
    }
    for (const invariant of [1, 2, 3, 4, 5, 6, 7, 8, 9]) expect(seen.get(invariant) ?? 0).toBeGreaterThan(SHOPS / 10);
  }, 60_000);
});
