import { describe, expect, it } from 'vitest';
import { check } from '../../../src/engine/check/check.ts';
import { validate } from '../../../src/engine/problem/validate.ts';
import { solve } from '../../../src/engine/solve.ts';
import { formulate } from '../../../src/trade/formulate/formulate.ts';
import { readPlan } from '../../../src/trade/formulate/read-plan.ts';
import { Plan } from '../../../src/trade/model/plan.ts';
import { aJob } from './a-job.ts';
import { seedShop } from './seed-shop.ts';

const book = seedShop();
const neglected = { soil: 3, defects: 4, brakeDust: 3, minerals: true, tar: true };
const clean = { soil: 0, defects: 0, brakeDust: 0, minerals: false, tar: false };

describe.each(book.recipes.map(({ id }) => id))('the seed recipe %s', (recipeId) => {
  it.each([
    ['a clean car', clean, []],
    ['a neglected car with every add-on', neglected, ['film', 'interior', 'glass', 'wheels', 'trim']],
  ])('is a valid problem for %s', (_, condition, addOns) => {
    const { problem, leftOut } = formulate({ ...book, jobs: [aJob(recipeId, { condition, addOns })] });
    expect(leftOut).toEqual([]);
    expect(validate(problem)).toEqual([]);
  });

  it('gives a plan that the checker accepts and that reads back as a plan of the trade', () => {
    const formulation = formulate({ ...book, jobs: [aJob(recipeId)] });
    const solution = solve(formulation.problem, { seed: 1, workLimit: 10_000 });
    expect(solution.conflict).toBeUndefined();
    expect(check(formulation.problem, solution.schedule!)).toEqual([]);
    const meta = { version: 1, madeAt: book.now, reason: 'test', objective: [], seed: 1, interrupted: false };
    const plan = Plan.parse(readPlan(formulation, solution.schedule!, meta));
    expect(plan.jobs).toHaveLength(1);
    expect(plan.operations.filter(({ kind }) => kind === 'handover')).toHaveLength(1);
    for (const { start, end, pieces } of plan.operations) {
      if (start === end) continue;
      expect(pieces[0]!.from).toBeGreaterThanOrEqual(start);
      expect(pieces.at(-1)!.to).toBeLessThanOrEqual(end);
    }
  });
});
