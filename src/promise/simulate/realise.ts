import type { Fixed, Operation, Problem } from '../../engine/problem/problem.ts';
import type { PlannedOperation, PlannedStay, Schedule } from '../../engine/problem/solution.ts';
import { type CompiledPlan, compilePlan } from './compile-plan.ts';
import { leavingNode, stayNode } from './plan-nodes.ts';
import { Replay } from './replay.ts';
import { commonRules, inputFaults, type SimulationInput } from './simulation-input.ts';

/** One scenario written down: the problem as it turned out, and what was done. */
export interface Realisation {
  /** The same problem with the work that was drawn. What left its planned hours when it overran is a fact. */
  readonly problem: Problem;
  readonly schedule: Schedule;
  /** Operations that overran out of their hours, conditions or budget, and so became facts. */
  readonly overran: readonly number[];
  /** Remedies done in a stay that the plan does not have: their time is counted, their place is not. */
  readonly withoutPlace: readonly number[];
  /** Windows without remedy that were broken. */
  readonly brokenWindows: number;
}

/**
 * One scenario as a plan that the independent checker can judge: it must obey every rule, but for what an overrun made
 * a fact.
 *
 * @throws RangeError naming the field at fault.
 */
export function realise(input: SimulationInput, scenario: number): Realisation {
  const faults = inputFaults(input);
  if (faults.length > 0) throw new RangeError(faults.join('; '));
  const rules = { ...commonRules, ...input.rules };
  const plan = compilePlan(input.problem, input.schedule, rules);
  const replay = new Replay(plan, input, rules);
  replay.run(scenario);
  return new Realising(plan, replay).realisation();
}

/** The scenario that was carried out last, being written down. */
class Realising {
  readonly #plan: CompiledPlan;
  readonly #replay: Replay;
  readonly #planned: (PlannedOperation | null)[] = [];
  readonly #overran: number[] = [];
  readonly #withoutPlace: number[] = [];

  constructor(plan: CompiledPlan, replay: Replay) {
    const { problem, schedule, mode } = plan.nodes;
    this.#plan = plan;
    this.#replay = replay;
    for (let o = 0; o < problem.operations.length; o++) {
      const isDone = mode[o]! >= 0 && replay.present[o] !== 0;
      this.#planned.push(isDone ? { start: replay.start[o]!, end: replay.end[o]!, mode: mode[o]! } : null);
      const { stay } = problem.operations[o]!;
      if (isDone && stay !== undefined && schedule.stays[stay] == null) this.#withoutPlace.push(o);
    }
  }

  realisation(): Realisation {
    const { problem } = this.#plan.nodes;
    const operations: Operation[] = [];
    for (let o = 0; o < problem.operations.length; o++) operations.push(this.#operation(o));
    return {
      problem: { ...problem, now: Math.min(problem.now, problem.horizon), operations },
      schedule: { operations: this.#planned, stays: this.#stays() },
      overran: this.#overran,
      withoutPlace: this.#withoutPlace,
      brokenWindows: this.#replay.broken,
    };
  }

  #operation(o: number): Operation {
    const { problem, underWay, demandedAt } = this.#plan.nodes;
    const operation = problem.operations[o]!;
    const done = this.#planned[o];
    if (done == null) return operation;
    if (operation.fixed?.by === 'fact') {
      return underWay[o] === 0 ? operation : { ...operation, fixed: { ...operation.fixed, end: done.end } };
    }
    const modes = operation.modes.slice();
    modes[done.mode] = { ...modes[done.mode]!, work: this.#replay.draws.work[o]! };
    const { fixed: _, ...free } = operation;
    const leftItsHours = this.#leaves(o, done) || (demandedAt[o]! >= 0 && this.#madeGoodFacts(o));
    if (leftItsHours) this.#overran.push(o);
    const fixed: Fixed | undefined = leftItsHours
      ? { start: done.start, end: done.end, mode: done.mode, by: 'fact' }
      : operation.fixed === undefined
        ? undefined
        : { ...operation.fixed, start: done.start };
    return { ...free, modes, ...(fixed === undefined ? {} : { fixed }) };
  }

  /** Whether a remedy makes good what overran on both sides: no rule asks for it any more. */
  #madeGoodFacts(remedy: number): boolean {
    for (const lag of this.#plan.nodes.problem.lags) {
      if (lag.remedy?.includes(remedy) !== true) continue;
      if (!this.#isFact(lag.from.operation) || !this.#isFact(lag.to.operation)) return false;
    }
    return true;
  }

  #isFact(o: number): boolean {
    const done = this.#planned[o];
    if (done == null) return false;
    return this.#plan.nodes.problem.operations[o]!.fixed?.by === 'fact' || this.#leaves(o, done);
  }

  /** Whether an overrun left what was allowed to the work as planned. */
  #leaves(o: number, { start, end }: PlannedOperation): boolean {
    const rule = this.#plan.rules[o]!;
    const work = this.#replay.draws.work[o]!;
    const { calendar } = rule;
    if (rule.allowed !== null && !rule.allowed.encloses(start, end)) return true;
    for (const hours of rule.hours) if (!hours.encloses(start, end)) return true;
    if (calendar === null) return false;
    if (rule.budget !== null) {
      const inItsHours = calendar.workAt(end) - calendar.workAt(start);
      return work > this.#plan.work[o]! || inItsHours < work;
    }
    if (calendar.endOf(start, work) !== end) return true;
    const run = calendar.runAt(start);
    if (!rule.pausable) return end > calendar.runTo[run]!;
    return rule.limitsPauses && end > calendar.runTo[run]!;
  }

  #stays(): (PlannedStay | null)[] {
    const { problem, schedule, stops } = this.#plan.nodes;
    const { start } = this.#replay;
    const stays = new Array<PlannedStay | null>(problem.stays.length).fill(null);
    for (let j = 0; j < stops.length; j++) {
      const ofJob = stops[j]!;
      for (let k = 0; k < ofJob.length; k++) {
        const stay = ofJob[k]!;
        const next = ofJob[k + 1];
        const to = next === undefined ? leavingNode(problem, j) : stayNode(problem, next);
        const { place } = schedule.stays[stay]!;
        stays[stay] = { place, from: start[stayNode(problem, stay)]!, to: start[to]! };
      }
    }
    return stays;
  }
}
