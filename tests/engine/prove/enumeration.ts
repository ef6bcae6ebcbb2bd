import { measure } from '../../../src/engine/check/objective.ts';
import type { Interval, Mode, Operation, Problem } from '../../../src/engine/problem/problem.ts';
import type { Objective, PlannedOperation, Schedule } from '../../../src/engine/problem/solution.ts';

/** The best objective of a tiny plain problem, or undefined when it has no plan. */
export function enumerate(problem: Problem): Objective | undefined {
  let best: Objective | undefined;
  visitPlans(problem, (plan) => {
    const schedule: Schedule = { operations: plan, stays: [] };
    const objective = measure(problem, schedule);
    if (best === undefined || lexicographicallyLess(objective, best)) best = objective;
    return true;
  });
  return best;
}

/** Every plan of a tiny plain problem. */
export function allPlans(problem: Problem): PlannedOperation[][] {
  const plans: PlannedOperation[][] = [];
  visitPlans(problem, (plan) => plans.push([...plan]) > 0);
  return plans;
}

/** Whether a tiny plain problem has a plan. */
export function hasPlan(problem: Problem): boolean {
  let found = false;
  visitPlans(problem, () => {
    found = true;
    return false;
  });
  return found;
}

/**
 * Tries every mode and start of every operation, minute by minute, for as long as `meet` says to go on. Shares nothing
 * with the solver.
 */
function visitPlans(problem: Problem, meet: (plan: readonly PlannedOperation[]) => boolean): void {
  const choices = problem.operations.map((operation) => planned(problem, operation));
  const chosen: PlannedOperation[] = [];
  const use = problem.resources.map(() => new Int32Array(problem.horizon));
  for (const { resource, amount, from, to } of problem.takenResources) {
    for (let t = from; t < Math.min(to, problem.horizon); t++) use[resource]![t]! += amount;
  }
  const visit = (o: number): boolean => {
    if (o === problem.operations.length) return meet(chosen);
    for (const option of choices[o]!) {
      chosen[o] = option.planned;
      if (!lagsHold(problem, chosen, o) || !capacityHolds(problem, use, o, option)) continue;
      hold(problem, use, o, option, 1);
      const goOn = visit(o + 1);
      hold(problem, use, o, option, -1);
      if (!goOn) return false;
    }
    chosen.length = o;
    return true;
  };
  visit(0);
}

interface Option {
  readonly planned: PlannedOperation;
  readonly worked: readonly number[];
}

function planned(problem: Problem, operation: Operation): Option[] {
  const options: Option[] = [];
  const release = Math.max(problem.now, operation.release ?? 0, problem.jobs[operation.job]!.release);
  for (const [m, mode] of operation.modes.entries()) {
    if (operation.fixed?.mode !== undefined && operation.fixed.mode !== m) continue;
    for (let start = release; start <= problem.horizon; start++) {
      if (operation.fixed !== undefined && operation.fixed.start !== start) continue;
      const option = workFrom(problem, operation, mode, start);
      if (option === undefined || option.end > (operation.deadline ?? problem.horizon)) continue;
      options.push({ planned: { start, end: option.end, mode: m }, worked: option.worked });
    }
  }
  return options;
}

function workFrom(problem: Problem, operation: Operation, mode: Mode, start: number) {
  const worked: number[] = [];
  let end = start;
  for (let done = 0; done < mode.work; end++) {
    if (end >= problem.horizon) return undefined;
    const rate = rateAt(problem, mode, end);
    if (rate > 0) worked.push(end);
    done += rate;
  }
  if (mode.work > 0 && worked[0] !== start) return undefined;
  if (worked.length < end - start && !operation.pausable) return undefined;
  if (worked.some((t) => mode.uses.some((u) => u.amount > 0 && !isIn(problem.resources[u.resource]!.open, t)))) {
    return undefined;
  }
  for (let t = start; t < end; t++) if (!isIn(mode.allowed, t)) return undefined;
  if (start === end && mode.allowed && !mode.allowed.some(({ from, to }) => from <= start && start <= to))
    return undefined;
  let first = 0;
  while (first < worked.length && worked[first] === start + first) first++;
  if (first < worked.length && first < (operation.leastFirstPiece ?? 0)) return undefined;
  for (let k = 1; k < worked.length; k++) {
    if (worked[k]! - worked[k - 1]! - 1 > (operation.longestPause ?? problem.horizon)) return undefined;
  }
  return { end, worked };
}

function rateAt(problem: Problem, mode: Mode, minute: number): number {
  if (mode.progress === undefined) return 1;
  const { at, rate } = problem.progresses[mode.progress]!;
  let now = 0;
  for (let k = 0; k < at.length; k++) if (at[k]! <= minute) now = rate[k]!;
  return now;
}

function isIn(intervals: readonly Interval[] | undefined, minute: number): boolean {
  return intervals === undefined || intervals.some(({ from, to }) => from <= minute && minute < to);
}

function lagsHold(problem: Problem, chosen: readonly PlannedOperation[], upTo: number): boolean {
  return problem.lags.every(({ from, to, min, max }) => {
    if (Math.max(from.operation, to.operation) > upTo) return true;
    const minutes = chosen[to.operation]![to.edge] - chosen[from.operation]![from.edge];
    return minutes >= min && minutes <= (max ?? minutes);
  });
}

function usesOf(problem: Problem, o: number, option: Option) {
  return problem.operations[o]!.modes[option.planned.mode]!.uses;
}

function capacityHolds(problem: Problem, use: readonly Int32Array[], o: number, option: Option): boolean {
  return usesOf(problem, o, option).every(
    ({ resource, amount }) =>
      amount === 0 || option.worked.every((t) => use[resource]![t]! + amount <= problem.resources[resource]!.capacity),
  );
}

function hold(problem: Problem, use: readonly Int32Array[], o: number, option: Option, sign: number): void {
  for (const { resource, amount } of usesOf(problem, o, option)) {
    for (const t of option.worked) use[resource]![t]! += sign * amount;
  }
}

function lexicographicallyLess(a: Objective, b: Objective): boolean {
  for (let k = 0; k < a.length; k++) if (a[k] !== b[k]) return a[k]! < b[k]!;
  return false;
}
