import type { Problem } from '../problem/problem.ts';
import type { Conflict } from '../problem/solution.ts';
import { Attempts, type TrySolve } from './attempts.ts';
import { findConflict } from './conflict.ts';
import { findNearest, type Nearest } from './nearest.ts';
import type { TellMinute } from './parts.ts';

export type { TrySolve } from './attempts.ts';
export type { Nearest } from './nearest.ts';
export type { TellMinute } from './parts.ts';

export interface Explanation {
  /** Rules that cannot all be kept; nothing outside the set is needed to see that. */
  readonly conflict: Conflict;
  /** Changes that were tried and give a plan, least first by kind. */
  readonly nearest: readonly Nearest[];
}

export interface ExplainLimits {
  /** Most attempts at solving for the conflict, and again for what would fit. */
  readonly attempts: number;
  /** True when whoever asked has waited long enough: what is known by then is told. Asked before each attempt. */
  readonly cancelled?: () => boolean;
  /** How instants are written in the texts; by default as minutes of the engine's axis. */
  readonly tellMinute?: TellMinute;
}

/**
 * Says why a problem has no plan, and what is the nearest thing that would fit. `trySolve` is the solver, with whatever
 * budget the caller grants each attempt.
 */
export function explain(problem: Problem, trySolve: TrySolve, limits: ExplainLimits = { attempts: 200 }): Explanation {
  const attempts = () => new Attempts(trySolve, limits.attempts, limits.cancelled);
  const conflict = findConflict(problem, attempts(), limits.tellMinute);
  const nearest = findNearest(problem, conflict, attempts());
  return { conflict, nearest };
}
