import { check } from '../../../src/engine/check/check.ts';
import { measure } from '../../../src/engine/check/objective.ts';
import { completion, workedPieces } from '../../../src/engine/check/worked-pieces.ts';
import type { Interval, Lag, Problem } from '../../../src/engine/problem/problem.ts';
import type { Objective, PlannedOperation, Schedule } from '../../../src/engine/problem/solution.ts';

export interface Optimum {
  readonly objective: Objective;
  readonly schedule: Schedule;
}

interface Candidate extends PlannedOperation {
  readonly pieces: readonly Interval[];
}

/**
 * The best schedule of a plain problem (no stays), or null when none obeys every rule: tries every start in the horizon
 * and every mode of every operation, depth first, leaving out only what already breaks a lag or a capacity, or already
 * costs as much as the best (no tier gets less by adding an operation). For a handful of operations and some 15 minutes.
 */
export function enumerate(problem: Problem): Optimum | null {
  const candidates = problem.operations.map((_, o) => candidatesOf(problem, o));
  const chosen: (Candidate | null)[] = problem.operations.map(() => null);
  const inUse = problem.resources.map(() => new Array<number>(problem.horizon + 1).fill(0));
  let best: Optimum | null = null;

  const place = (candidate: Candidate, o: number, sign: 1 | -1): boolean => {
    let fits = true;
    for (const { resource, amount } of problem.operations[o]!.modes[candidate.mode]!.uses) {
      for (const { from, to } of candidate.pieces) {
        for (let minute = from; minute < to; minute++) {
          inUse[resource]![minute]! += sign * amount;
          if (inUse[resource]![minute]! > problem.resources[resource]!.capacity) fits = false;
        }
      }
    }
    return fits;
  };

  const descend = (o: number): void => {
    const operations = chosen.map(
      (planned) => planned && { start: planned.start, end: planned.end, mode: planned.mode },
    );
    const schedule: Schedule = { operations, stays: [] };
    const objective = measure(problem, schedule);
    if (best !== null && !isBetter(objective, best.objective)) return;
    if (o === problem.operations.length) {
      if (check(problem, schedule).length === 0) best = { objective, schedule };
      return;
    }
    for (const candidate of candidates[o]!) {
      chosen[o] = candidate;
      if (!problem.lags.every((lag) => keepsLag(lag, chosen, o))) continue;
      if (candidate === null || place(candidate, o, 1)) descend(o + 1);
      if (candidate !== null) place(candidate, o, -1);
    }
    chosen[o] = null;
  };
  descend(0);
  return best;
}

export function isBetter(one: Objective, other: Objective): boolean {
  const tier = one.findIndex((value, k) => value !== other[k]);
  return tier >= 0 && one[tier]! < other[tier]!;
}

function candidatesOf(problem: Problem, o: number): (Candidate | null)[] {
  const { modes, presence, pausable } = problem.operations[o]!;
  const found: (Candidate | null)[] = presence === 'optional' ? [null] : [];
  for (let start = problem.now; start <= problem.horizon; start++) {
    for (const [m, mode] of modes.entries()) {
      const end = completion(problem, mode, start);
      if (end === undefined || end > problem.horizon) continue;
      const pieces = workedPieces(problem, mode, start, end);
      if (!pausable && pieces.length > 1) continue;
      found.push({ start, end, mode: m, pieces });
    }
  }
  return found;
}

/** False only when both ends are chosen, the last of them just now, and the lag is broken past any remedy. */
function keepsLag({ from, to, min, max, remedy }: Lag, chosen: readonly (Candidate | null)[], o: number): boolean {
  if (Math.max(from.operation, to.operation) !== o) return true;
  const one = chosen[from.operation];
  const other = chosen[to.operation];
  if (one == null || other == null) return true;
  const minutes = other[to.edge] - one[from.edge];
  return minutes >= min && (max === undefined || remedy !== undefined || minutes <= max);
}
