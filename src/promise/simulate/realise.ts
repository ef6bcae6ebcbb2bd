import type { Fixed, Operation, Problem } from '../../engine/problem/problem.ts';
import type { PlannedOperation, PlannedStay, Schedule } from '../../engine/problem/solution.ts';
import { compilePlan } from './compile-plan.ts';
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
  const { problem } = input;
  const { nodes } = plan;
  const { now } = problem;
  const overran: number[] = [];
  const planned = problem.operations.map((_, o): PlannedOperation | null => {
    if (nodes.mode[o]! < 0 || replay.present[o] === 0) return null;
    return { start: replay.start[o]!, end: replay.end[o]!, mode: nodes.mode[o]! };
  });
  const operations = problem.operations.map((operation, o): Operation => {
    const done = planned[o];
    if (done == null || operation.fixed?.by === 'fact') {
      return done == null || nodes.underWay[o] === 0
        ? operation
        : { ...operation, fixed: { ...operation.fixed!, end: done.end } };
    }
    const modes = operation.modes.map((mode, m) => (m === done.mode ? { ...mode, work: replay.draws.work[o]! } : mode));
    const { fixed: _, ...free } = operation;
    const leftItsHours = leaves(o) || (nodes.demandedAt[o]! >= 0 && madeGoodFacts(o));
    if (leftItsHours) overran.push(o);
    const fixed: Fixed | undefined = leftItsHours
      ? { start: done.start, end: done.end, mode: done.mode, by: 'fact' }
      : operation.fixed === undefined
        ? undefined
        : { ...operation.fixed, start: done.start };
    return { ...free, modes, ...(fixed === undefined ? {} : { fixed }) };
  });
  return {
    problem: { ...problem, now: Math.min(now, problem.horizon), operations },
    schedule: { operations: planned, stays: staysOf() },
    overran,
    withoutPlace: problem.operations.flatMap(({ stay }, o) =>
      planned[o] != null && stay !== undefined && input.schedule.stays[stay] == null ? [o] : [],
    ),
    brokenWindows: replay.broken,
  };

  /** Whether a remedy makes good what overran on both sides: no rule asks for it any more. */
  function madeGoodFacts(remedy: number): boolean {
    return problem.lags.every(
      (lag) => lag.remedy?.includes(remedy) !== true || (isFact(lag.from.operation) && isFact(lag.to.operation)),
    );
  }

  function isFact(o: number): boolean {
    return planned[o] != null && (problem.operations[o]!.fixed?.by === 'fact' || leaves(o));
  }

  /** Whether an overrun left what was allowed to the work as planned. */
  function leaves(o: number): boolean {
    const rule = plan.rules[o]!;
    const { start, end } = planned[o]!;
    const work = replay.draws.work[o]!;
    const { calendar } = rule;
    if (rule.allowed !== null && !rule.allowed.encloses(start, end)) return true;
    if (rule.hours.some((hours) => !hours.encloses(start, end))) return true;
    if (calendar === null) return false;
    if (rule.budget !== null) return work > plan.work[o]!;
    if (calendar.endOf(start, work) !== end) return true;
    const run = calendar.runAt(start);
    if (!rule.pausable) return end > calendar.runTo[run]!;
    if (!rule.limitsPauses || end <= calendar.runTo[run]!) return false;
    return true;
  }

  function staysOf(): (PlannedStay | null)[] {
    const stays = new Array<PlannedStay | null>(problem.stays.length).fill(null);
    for (const [j, stops] of nodes.stops.entries()) {
      for (const [k, stay] of stops.entries()) {
        const next = stops[k + 1];
        const to = next === undefined ? leavingNode(problem, j) : stayNode(problem, next);
        const { place } = input.schedule.stays[stay]!;
        stays[stay] = { place, from: replay.start[stayNode(problem, stay)]!, to: replay.start[to]! };
      }
    }
    return stays;
  }
}
