import { describe, expect, it } from 'vitest';
import { prove } from '../../../src/engine/prove/prove.ts';
import { endToStart, plainProblem } from './a-shop.ts';
import { Dice } from './random-problem.ts';

/** Ten jobs on ten machines, too hard for a short budget. */
function hardShop() {
  const dice = new Dice(5);
  const operations = Array.from({ length: 100 }, (_, k) => ({
    modes: [
      { work: 1 + dice.below(99), uses: [{ resource: (k + 3 * Math.floor(k / 10) + dice.below(5)) % 10, amount: 1 }] },
    ],
  }));
  const lags = operations.flatMap((_, k) => (k % 10 === 0 ? [] : [endToStart(k - 1, k)]));
  return plainProblem(operations, lags, new Array<number>(10).fill(1));
}

describe('budgets of a proof', () => {
  it('the same seed and work budget give the same plan and the same work', () => {
    const problem = hardShop();
    const [one, other] = [0, 1].map(() => prove(problem, { seed: 3, workLimit: 2_000_000 }));
    expect(one).toEqual(other);
    expect(one!.interrupted).toBe(false);
    expect(one!.work).toBeGreaterThan(0);
  });

  it('the clock only interrupts, and the result says so', () => {
    let now = 0;
    const clock = () => {
      now += 5;
      return now;
    };
    const solution = prove(hardShop(), { seed: 3, workLimit: 1e12, timeLimitMs: 20, clock });
    expect(solution.interrupted).toBe(true);
    expect(['feasible', 'unknown', 'optimal']).toContain(solution.status);
  });

  it('a cancelled search keeps what it has found', () => {
    const found: number[] = [];
    const solution = prove(hardShop(), {
      seed: 3,
      workLimit: 1e12,
      cancelled: () => found.length > 0,
      onProgress: ({ objective }) => found.push(objective[0]!),
    });
    expect(found.length).toBeGreaterThan(0);
    expect(solution.objective).toEqual([Math.min(...found)]);
    expect(solution.bound[0]).toBeLessThanOrEqual(solution.objective![0]!);
  });
});
