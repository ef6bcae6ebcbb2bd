import { describe, expect, it } from 'vitest';
import type { Explainer } from '../../../src/engine/learn/propagator.ts';
import { Search } from '../../../src/engine/learn/search.ts';
import { EarliestStart } from '../../../src/engine/prove/branching.ts';
import { buildModel, type Model } from '../../../src/engine/prove/model.ts';
import { addObjective } from '../../../src/engine/prove/objective.ts';
import { provable } from '../../../src/engine/prove/provable.ts';
import { allPlans } from './enumeration.ts';
import { type Flavour, randomProblem } from './random-problem.ts';

const CLAUSE = 0;

const flavour: Flavour = {
  operations: 4,
  horizon: 8,
  modes: false,
  calendars: false,
  maximumLags: true,
  tiers: ['makespan'],
};

/** The value every variable of the model has in a plan, by half. */
function valuesOf(model: Model, objective: number, plan: ReturnType<typeof allPlans>[number]): Int32Array {
  const value = new Int32Array(model.solver.bounds.halves);
  const set = (half: number, x: number) => {
    value[half] = x;
    value[half ^ 1] = -x;
  };
  for (const [o, { start, end, endOffset, modes }] of model.operations.entries()) {
    const planned = plan[o]!;
    set(start, planned.start);
    set(end, planned.end - endOffset);
    for (const [m, { presence }] of modes.entries()) if (presence >= 0) set(presence, planned.mode === m ? 1 : 0);
  }
  for (const { a, b, first } of model.orders) {
    const before = plan[a]!.end <= plan[b]!.start && plan[a]!.start <= plan[b]!.start;
    set(first, before ? 1 : 0);
  }
  set(objective, Math.max(...plan.map(({ end }) => end)));
  return value;
}

describe('every reason given in a search is true of every plan', () => {
  for (const [name, own] of [
    ['one mode', {}],
    ['alternative modes', { modes: true, operations: 3 }],
    ['calendars', { calendars: true }],
    ['modes bound to calendars', { modes: true, calendars: true, operations: 3 }],
    ['five operations', { operations: 5, horizon: 7, maximumLags: false }],
  ] as const) {
    it(`with ${name}`, () => {
      let checked = 0;
      for (let seed = 300; seed < 380; seed++) {
        const problem = randomProblem(seed, { ...flavour, ...own });
        if (!provable(problem)) continue;
        const plans = allPlans(problem);
        const model = buildModel(problem, 0.95);
        if (model === undefined) {
          expect(plans).toHaveLength(0);
          continue;
        }
        const { solver } = model;
        const objective = addObjective(problem, model, 'makespan');
        const values = plans.map((plan) => valuesOf(model, objective, plan));
        const sample = values.slice(0, 300);
        const { explainers } = solver as unknown as { explainers: Explainer[] };
        const { bounds, explanation } = solver;
        const raise = bounds.raise.bind(bounds);
        bounds.raise = (half, bound, reason, data) => {
          const raised = bound > bounds.lower[half]!;
          const result = raise(half, bound, reason, data);
          if (!raised || reason <= CLAUSE) return result;
          const first = explanation.size;
          const entry = bounds.size - 1;
          // Asked for the bound itself, and for the weakest bound that was new.
          for (const need of [bound, bounds.old[entry]! + 1]) {
            explanation.size = first;
            explainers[reason]!.explain(half, need, data, entry);
            for (let k = first; k < explanation.size; k++) {
              const held = bounds.at(explanation.half[k]!, entry);
              expect(held, `seed ${seed}: a literal held`).toBeGreaterThanOrEqual(explanation.bound[k]!);
            }
            for (const value of sample) {
              let all = true;
              for (let k = first; k < explanation.size && all; k++) {
                all = value[explanation.half[k]!]! >= explanation.bound[k]!;
              }
              if (all) {
                checked++;
                expect(value[half]!, `seed ${seed}, reason ${reason}, half ${half}`).toBeGreaterThanOrEqual(need);
              }
            }
          }
          explanation.size = first;
          return result;
        };
        const learn = solver.learn.bind(solver);
        solver.learn = () => {
          if (bounds.emptied < 0) {
            for (const value of sample) {
              let all = true;
              for (let k = 0; k < explanation.size && all; k++) {
                all = value[explanation.half[k]!]! >= explanation.bound[k]!;
              }
              expect(all, `seed ${seed}: a conflict is met by no plan`).toBe(false);
            }
          }
          return learn();
        };
        const search = new Search(solver, new EarliestStart(model));
        solver.seal();
        if (!model.lags.start()) continue;
        const limits = { conflicts: 1000, work: 1e9, stop: () => false };
        let found = Number.POSITIVE_INFINITY;
        while (search.run(limits) === 'solution') {
          found = bounds.min(objective);
          search.follow();
          solver.require(objective ^ 1, 1 - found);
        }
        expect(found, `seed ${seed}`).toBe(Math.min(...values.map((value) => value[objective]!)));
      }
      expect(checked).toBeGreaterThan(1000);
    });
  }
});
