import type { Problem } from '../problem/problem.ts';
import type { Conflict, ConflictPart, Status } from '../problem/solution.ts';
import type { Attempts } from './attempts.ts';
import { partsOf, type TellMinute } from './parts.ts';
import { without } from './without.ts';

/**
 * A set of parts that cannot all be kept, where an attempt that finds no plan is taken for one that has none: construction
 * seldom proves it.
 */
export function findConflict(problem: Problem, attempts: Attempts, tellMinute?: TellMinute): Conflict {
  const hasNone = (status: Status) => status === 'infeasible' || status === 'unknown';
  return reduceToConflict(problem, partsOf(problem, tellMinute), attempts, hasNone);
}

/**
 * A set of parts that cannot all be kept, found by deletion: parts are left out in halves and halves of halves for as
 * long as `hasNone` says that there is still no plan (the divide and conquer of Junker 2004, "QuickXplain", over a deletion
 * filter as in Chinneck and Dravnieks 1991). It is labelled minimal only when it was proved to have no plan and leaving out
 * any one of its parts was then seen to give one. When attempts run out, what is left is kept.
 */
export function reduceToConflict(
  problem: Problem,
  all: readonly ConflictPart[],
  attempts: Attempts,
  hasNone: (status: Status) => boolean,
): Conflict {
  const leftOut = new Set<ConflictPart>();
  const hasPlanWithout = (more: readonly ConflictPart[]) => {
    const outcome = attempts.solve(without(problem, [...leftOut, ...more]));
    return outcome === undefined || !hasNone(outcome);
  };
  const reduce = (parts: readonly ConflictPart[]): void => {
    if (!hasPlanWithout(parts)) {
      for (const part of parts) leftOut.add(part);
    } else if (parts.length > 1) {
      const middle = parts.length >> 1;
      reduce(parts.slice(0, middle));
      reduce(parts.slice(middle));
    }
  };
  reduce(all);
  const parts = all.filter((part) => !leftOut.has(part));
  return { parts, minimal: isMinimal(problem, attempts, [...leftOut], parts) };
}

function isMinimal(
  problem: Problem,
  attempts: Attempts,
  leftOut: readonly ConflictPart[],
  parts: readonly ConflictPart[],
): boolean {
  if (attempts.solve(without(problem, leftOut)) !== 'infeasible') return false;
  return parts.every((part) => {
    const outcome = attempts.solve(without(problem, [...leftOut, part]));
    return outcome === 'feasible' || outcome === 'optimal';
  });
}
