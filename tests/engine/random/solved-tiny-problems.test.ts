import { describe, expect, test } from 'vitest';
import { check } from '../../../src/engine/check/check.ts';
import { measure } from '../../../src/engine/check/objective.ts';
import { validate } from '../../../src/engine/problem/validate.ts';
import { solve } from '../../../src/engine/solve.ts';
import { enumerate, isBetter } from './enumerate.ts';
import { tinyProblem } from './tiny-problem.ts';

const PROBLEMS = 100;
const WORK_LIMIT = 100_000;

describe('tiny problems', () => {
  test('are solved as enumeration solves them: never better, and no worse when called optimal', () => {
    const seen = new Map<string, number>();
    for (let seed = 1000; seed < 1000 + PROBLEMS; seed++) {
      const problem = tinyProblem(seed);
      if (validate(problem).length > 0) continue;
      const optimum = enumerate(problem);
      const { status, schedule, objective, bound } = solve(problem, { seed, workLimit: WORK_LIMIT });
      seen.set(status, (seen.get(status) ?? 0) + 1);
      const told = `seed ${seed}, ${status}`;
      if (status === 'infeasible') expect(optimum, told).toBeNull();
      if (status === 'optimal') expect(objective, told).toEqual(optimum?.objective);
      if (schedule !== null) {
        expect(check(problem, schedule), told).toEqual([]);
        expect(measure(problem, schedule), told).toEqual(objective);
        expect(optimum !== null && !isBetter(objective!, optimum.objective), told).toBe(true);
      }
      if (optimum !== null) expect(bound[0]!, told).toBeLessThanOrEqual(optimum.objective[0]!);
    }
    console.log(`Tiny problems: ${[...seen].map(([status, count]) => `${count} ${status}`).join(', ')}.`);
    expect(seen.get('optimal') ?? 0).toBeGreaterThan(0);
  }, 120_000);
});
