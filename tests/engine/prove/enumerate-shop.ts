import { check } from '../../../src/engine/check/check.ts';
import { measure } from '../../../src/engine/check/objective.ts';
import { completion } from '../../../src/engine/check/worked-pieces.ts';
import type { Problem } from '../../../src/engine/problem/problem.ts';
import type { Objective, PlannedOperation, PlannedStay, Schedule } from '../../../src/engine/problem/solution.ts';

interface Visit {
  readonly operations: readonly (PlannedOperation | null)[];
  readonly stays: readonly (PlannedStay | null)[];
}

/**
 * The best objective of a tiny shop of two cars, or undefined when it has no plan: every way of each car's visit that
 * breaks no rule by itself, then every pair of them, all judged by the independent checker. Undecided (null) when there
 * are too many pairs to try.
 */
export function bestOfShop(problem: Problem, mostPairs: number): Objective | undefined | null {
  const [one, other] = [visitsOf(problem, 0), visitsOf(problem, 1)];
  if (one.length * other.length > mostPairs) return null;
  let best: Objective | undefined;
  for (const a of one) {
    for (const b of other) {
      const schedule: Schedule = { operations: joined(a.operations, b.operations), stays: joined(a.stays, b.stays) };
      const objective = measure(problem, schedule);
      if (best !== undefined && !isLess(objective, best)) continue;
      if (check(problem, schedule).length === 0) best = objective;
    }
  }
  return best;
}

function joined<T>(one: readonly (T | null)[], other: readonly (T | null)[]): (T | null)[] {
  return one.map((each, k) => each ?? other[k]!);
}

function isLess(one: Objective, other: Objective): boolean {
  const tier = one.findIndex((value, k) => value !== other[k]);
  return tier >= 0 && one[tier]! < other[tier]!;
}

/** Every way of a car's visit against which the checker has nothing to say that concerns this car alone. */
function visitsOf(problem: Problem, job: number): Visit[] {
  const mine = [...problem.operations.keys()].filter((o) => problem.operations[o]!.job === job);
  const found: Visit[] = [];
  const operations: (PlannedOperation | null)[] = problem.operations.map(() => null);
  const descend = (k: number): void => {
    if (k === mine.length) {
      for (const stays of itinerariesOf(problem, job, operations)) {
        const visit = { operations: [...operations], stays };
        if (isSound(problem, job, visit)) found.push(visit);
      }
      return;
    }
    const o = mine[k]!;
    const { modes, presence, fixed } = problem.operations[o]!;
    operations[o] = null;
    if (presence === 'optional') descend(k + 1);
    for (let start = 0; start <= problem.horizon; start++) {
      if (fixed !== undefined && fixed.start !== start) continue;
      for (const [mode, each] of modes.entries()) {
        const end = completion(problem, each, start);
        if (end === undefined || end > problem.horizon) continue;
        operations[o] = { start, end, mode };
        if (keepsLags(problem, operations, o)) descend(k + 1);
      }
    }
    operations[o] = null;
  };
  descend(0);
  return found;
}

function keepsLags(problem: Problem, operations: readonly (PlannedOperation | null)[], o: number): boolean {
  return problem.lags.every(({ from, to, min, max, remedy }) => {
    if (from.operation !== o && to.operation !== o) return true;
    const one = operations[from.operation];
    const other = operations[to.operation];
    if (one == null || other == null) return true;
    const minutes = other[to.edge] - one[from.edge];
    return minutes >= min && (max === undefined || remedy !== undefined || minutes <= max);
  });
}

/** Every sequence of places and arrivals: the first at intake, the others at the end of the move or at any minute. */
function itinerariesOf(
  problem: Problem,
  job: number,
  operations: readonly (PlannedOperation | null)[],
): (PlannedStay | null)[][] {
  const { stays, arrival, handover } = problem.jobs[job]!;
  const minutes = Array.from({ length: problem.horizon + 1 }, (_, t) => t);
  const left = handover === undefined ? minutes : [operations[handover]!.end];
  const found: (PlannedStay | null)[][] = [];
  const start = operations[arrival!]!.start;
  const extend = (k: number, from: number, before: number | undefined, plan: (PlannedStay | null)[]): void => {
    if (k === stays.length) {
      for (const to of left) {
        const closed = plan.map((stay, s) => (s === before ? { ...stay!, to } : stay));
        found.push(closed);
      }
      return;
    }
    const stay = problem.stays[stays[k]!]!;
    if (stay.optional) extend(k + 1, from, before, plan);
    const move = stay.move === undefined ? null : operations[stay.move]!;
    const arrivals = before === undefined ? [start] : move === null ? minutes.filter((t) => t >= from) : [move.end];
    for (const at of arrivals) {
      for (const place of stay.places) {
        // A car changes place by a move, and moves to no other end.
        if (before !== undefined && (move === null) !== (plan[before]!.place === place)) continue;
        const next = plan.map((each, s) => (s === before ? { ...each!, to: at } : each));
        next[stays[k]!] = { place, from: at, to: at };
        extend(k + 1, at, stays[k]!, next);
      }
    }
  };
  extend(
    0,
    0,
    undefined,
    problem.stays.map(() => null),
  );
  return found;
}

function isSound(problem: Problem, job: number, visit: Visit): boolean {
  return check(problem, visit).every(({ operations, stays }) => {
    // What names nothing may be about the other car; it is judged again with the pair.
    if (operations.length + stays.length === 0) return true;
    return (
      operations.some((o) => problem.operations[o]!.job !== job) || stays.some((s) => problem.stays[s]!.job !== job)
    );
  });
}
