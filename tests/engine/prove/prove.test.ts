import { describe, expect, it } from 'vitest';
import { check } from '../../../src/engine/check/check.ts';
import { measure } from '../../../src/engine/check/objective.ts';
import { provable } from '../../../src/engine/prove/provable.ts';
import { prove } from '../../../src/engine/prove/prove.ts';
import { enumerate } from './enumeration.ts';
import { type Flavour, randomProblem } from './random-problem.ts';

const plain: Flavour = {
  operations: 4,
  horizon: 10,
  modes: false,
  calendars: false,
  maximumLags: false,
  tiers: ['makespan'],
};

const flavours: readonly (readonly [string, Flavour])[] = [
  ['resources and precedence', plain],
  ['maximum lags', { ...plain, maximumLags: true }],
  ['alternative modes', { ...plain, modes: true, maximumLags: true }],
  ['calendars and pauses', { ...plain, calendars: true, maximumLags: true }],
  ['modes bound to calendars', { ...plain, modes: true, calendars: true }],
  ['tardiness', { ...plain, modes: true, tiers: ['tardiness', 'makespan'] }],
  ['promises, then lead time', { ...plain, maximumLags: true, tiers: ['broken', 'tardiness', 'lead'] }],
];

describe('a proof agrees with trying every plan', () => {
  for (const [name, flavour] of flavours) {
    it(`of small problems with ${name}`, () => {
      let feasible = 0;
      let infeasible = 0;
      for (let seed = 1; seed <= 150; seed++) {
        const problem = randomProblem(seed, flavour);
        if (!provable(problem)) continue;
        const best = enumerate(problem);
        const solution = prove(problem, { seed, workLimit: 10_000_000 });
        if (best === undefined) {
          infeasible++;
          expect(solution.status, `seed ${seed}`).toBe('infeasible');
          continue;
        }
        feasible++;
        expect(solution.objective, `seed ${seed}`).toEqual(best);
        expect(solution.status).toBe('optimal');
        expect(check(problem, solution.schedule!), `seed ${seed}`).toEqual([]);
        expect(measure(problem, solution.schedule!)).toEqual(best);
        expect(solution.bound).toHaveLength(best.length);
      }
      expect(feasible).toBeGreaterThan(20);
      expect(infeasible).toBeGreaterThan(0);
    });
  }
});

describe('makespan', () => {
  it('counts milestones that must coincide', () => {
    const problem = randomProblem(1, { ...plain, operations: 2 });
    const milestone = { work: 0, uses: [] };
    const [a, b] = problem.operations.map((operation, k) => ({
      name: operation.name,
      job: operation.job,
      modes: [milestone],
      pausable: false,
      presence: 'always' as const,
      release: 3 + k,
    }));
    const edge = (operation: number) => ({ operation, edge: 'start' as const });
    const together = { from: edge(0), to: edge(1), min: 0, max: 0 };
    const solution = prove({ ...problem, operations: [a!, b!], lags: [together] }, { seed: 1, workLimit: 1e6 });
    expect(solution.objective).toEqual([4]);
  });
});
