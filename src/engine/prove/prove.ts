import { type Outcome, Search } from '../learn/search.ts';
import type { Problem } from '../problem/problem.ts';
import type { Schedule, Solution, Status } from '../problem/solution.ts';
import type { SolveOptions } from '../solve-options.ts';
import { EarliestStart } from './branching.ts';
import { buildModel } from './model.ts';
import { addObjective, readSchedule } from './objective.ts';
import { unprovable } from './provable.ts';

const DECAY = 0.95;
/** Conflicts between two looks at the clock and the work budget. */
const SLICE = 2000;

/**
 * Solves a plain problem by lazy clause generation: finds schedules and lowers the objective until none better exists,
 * one tier after another. Throws when the problem uses a feature that `provable` excludes.
 */
export function prove(problem: Problem, options: SolveOptions): Solution {
  const outside = unprovable(problem);
  if (outside !== undefined) throw new Error(`no proof is made for a problem with ${outside}`);
  return new Proof(problem, options).run();
}

class Proof {
  private readonly problem: Problem;
  private readonly options: SolveOptions;
  private readonly deadline: number;
  private best: Schedule | null = null;
  private objective: number[] | null = null;
  private interrupted = false;

  constructor(problem: Problem, options: SolveOptions) {
    this.problem = problem;
    this.options = options;
    this.deadline = options.clock ? options.clock() + (options.timeLimitMs ?? Number.POSITIVE_INFINITY) : 0;
  }

  private readonly stop = (): boolean => {
    const { clock, cancelled } = this.options;
    if ((clock !== undefined && clock() >= this.deadline) || cancelled?.()) this.interrupted = true;
    return this.interrupted;
  };

  run(): Solution {
    const { problem, options } = this;
    const nothing = problem.tiers.map(() => 0);
    const model = buildModel(problem, DECAY);
    if (model === undefined) return this.result('infeasible', nothing, 0);
    const { solver } = model;
    const tiers = problem.tiers.map((tier) => addObjective(problem, model, tier));
    const search = new Search(solver, new EarliestStart(model));
    solver.seal();
    if (solver.failed || !model.lags.start() || !solver.propagate()) {
      return this.result('infeasible', nothing, solver.work);
    }
    const bound = tiers.map((half) => solver.bounds.min(half));
    const limits = () => ({ conflicts: SLICE, work: options.workLimit, stop: this.stop });
    for (let tier = 0; ; ) {
      const outcome: Outcome = search.run(limits());
      if (outcome === 'solution') {
        this.best = readSchedule(model);
        this.objective = tiers.map((half) => solver.bounds.min(half));
        search.follow();
        options.onProgress?.({ schedule: this.best, objective: this.objective, bound, work: solver.work });
        if (tiers.length === 0) return this.result('optimal', bound, solver.work);
        const least = this.objective[tier]!;
        solver.require(tiers[tier]! ^ 1, 1 - least);
      } else if (outcome === 'none') {
        return this.best === null
          ? this.result('infeasible', nothing, solver.work)
          : this.result('optimal', this.objective!, solver.work);
      } else if (solver.work >= options.workLimit || this.stop()) {
        solver.backtrackTo(0);
        return this.result(this.best === null ? 'unknown' : 'feasible', bound, solver.work);
      }
      if (tier < 0) tier = 0;
    }
  }

  private result(status: Status, bound: readonly number[], work: number): Solution {
    return { status, schedule: this.best, objective: this.objective, bound, work, interrupted: this.interrupted };
  }
}
