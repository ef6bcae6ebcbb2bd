import { describe, expect, it } from 'vitest';
import { check } from '../../../src/engine/check/check.ts';
import { measure } from '../../../src/engine/check/objective.ts';
import type { Problem } from '../../../src/engine/problem/problem.ts';
import { asMachineShop } from '../../../src/engine/prove/machine-shop.ts';
import { prove } from '../../../src/engine/prove/prove.ts';
import { SeededRandom } from '../../../src/engine/prove/seeded-random.ts';
import { ShopTabu } from '../../../src/engine/prove/shop-tabu.ts';
import { endToStart, plainProblem } from './a-shop.ts';
import { Dice } from './random-problem.ts';

/** Five jobs of four operations on four machines; when flexible, each on one or two of them. */
function randomShop(seed: number, flexible: boolean): Problem {
  const dice = new Dice(seed);
  const operations = Array.from({ length: 20 }, () => {
    const machine = dice.below(4);
    const mode = { work: 1 + dice.below(20), uses: [{ resource: machine, amount: 1 }] };
    const other = { work: 1 + dice.below(20), uses: [{ resource: (machine + 1) % 4, amount: 1 }] };
    return { modes: flexible && dice.chance(60) ? [mode, other] : [mode] };
  });
  const lags = operations.flatMap((_, k) => (k % 4 === 0 ? [] : [endToStart(k - 1, k, dice.below(3))]));
  return plainProblem(operations, lags, [1, 1, 1, 1]);
}

const never = () => false;

describe('tabu search for shops', () => {
  for (const flexible of [false, true]) {
    it(`makes plans that obey every rule, close to the best, ${flexible ? 'with a choice of machines' : 'on given machines'}`, () => {
      for (let seed = 1; seed <= 8; seed++) {
        const problem = randomShop(seed, flexible);
        const tabu = new ShopTabu(asMachineShop(problem)!, new SeededRandom(seed));
        tabu.run(200_000, 0, never);
        const schedule = tabu.schedule();
        expect(check(problem, schedule)).toEqual([]);
        expect(measure(problem, schedule)).toEqual([tabu.makespan]);
        const best = prove(problem, { seed, workLimit: 1e8 }).objective![0]!;
        expect(tabu.makespan).toBeGreaterThanOrEqual(best);
        expect(tabu.makespan).toBeLessThanOrEqual(best * 1.03);
      }
    });
  }

  it('repeats itself for a seed, and goes on from a plan it is given', () => {
    const problem = randomShop(3, true);
    const shop = asMachineShop(problem)!;
    const runs = [0, 1].map(() => {
      const tabu = new ShopTabu(shop, new SeededRandom(7));
      tabu.run(20_000, 0, never);
      return tabu;
    });
    expect(runs[0]!.schedule()).toEqual(runs[1]!.schedule());
    const other = new ShopTabu(shop, new SeededRandom(8));
    other.adopt(runs[0]!.schedule());
    expect(other.makespan).toBeLessThanOrEqual(runs[0]!.makespan);
  });

  it('declines what is no shop: a maximum lag, a deadline, two resources at once', () => {
    const problem = randomShop(1, false);
    expect(asMachineShop(problem)).toBeDefined();
    expect(asMachineShop({ ...problem, lags: [{ ...problem.lags[0]!, max: 9 }] })).toBeUndefined();
    const [first, ...rest] = problem.operations;
    expect(asMachineShop({ ...problem, operations: [{ ...first!, deadline: 50 }, ...rest] })).toBeUndefined();
    const both = { work: 2, uses: [0, 1].map((resource) => ({ resource, amount: 1 })) };
    expect(asMachineShop({ ...problem, operations: [{ ...first!, modes: [both] }, ...rest] })).toBeUndefined();
  });
});
