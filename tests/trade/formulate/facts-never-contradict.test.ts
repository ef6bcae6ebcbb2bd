import { describe, expect, it } from 'vitest';
import { check } from '../../../src/engine/check/check.ts';
import { validate } from '../../../src/engine/problem/validate.ts';
import { solve } from '../../../src/engine/solve.ts';
import { formulate } from '../../../src/trade/formulate/formulate.ts';
import { wildFloor, wildShop } from './wild-floor.ts';

describe('whatever has happened on the floor', () => {
  const seeds = Array.from({ length: 120 }, (_, k) => k + 1);

  it('the problem never contradicts itself', () => {
    for (const seed of seeds) {
      const { book } = wildFloor(seed);
      const { problem, leftOut } = formulate(book);
      expect(leftOut, `seed ${seed}`).toEqual([]);
      expect(validate(problem), `seed ${seed}`).toEqual([]);
    }
  });

  it('a plan is found that the checker accepts', () => {
    const failed: string[] = [];
    for (const seed of seeds) {
      const { book, recipe } = wildFloor(seed);
      const { problem } = formulate(book);
      const { schedule, conflict } = solve(problem, { seed: 1, workLimit: 1 });
      if (schedule === null)
        failed.push(
          `seed ${seed}, ${recipe.id}: ${conflict?.parts.map(({ text }) => text).join(' ') ?? 'nothing found'}`,
        );
      else for (const { text } of check(problem, schedule)) failed.push(`seed ${seed}, ${recipe.id}: ${text}`);
    }
    expect(failed).toEqual([]);
  });

  it('a plan is found for a whole shop of such cars', () => {
    const failed: string[] = [];
    for (const seed of seeds.slice(0, 20)) {
      const { problem, leftOut } = formulate(wildShop(seed, 6));
      const { schedule } = solve(problem, { seed: 1, workLimit: 1 });
      if (leftOut.length > 0 || schedule === null) failed.push(`seed ${seed}: no plan`);
      else for (const { text } of check(problem, schedule)) failed.push(`seed ${seed}: ${text}`);
    }
    expect(failed).toEqual([]);
  });
});
