import { describe, expect, it } from 'vitest';
import { prove } from '../../../src/engine/prove/prove.ts';
import { hardShop } from './a-shop.ts';

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
