import type { Objective, Schedule } from '../problem/solution.ts';

/** A schedule and what it costs, one number a tier. */
export interface Incumbent {
  readonly schedule: Schedule;
  readonly objective: Objective;
}

/**
 * What several proofs of one problem tell one another while they run. All of it is asked from inside the search, so it
 * must be cheap.
 */
export interface Exchange {
  /** Whether something better has come since `newest` was last asked. */
  hasNews(): boolean;
  /** The best schedule the others have told since the last time, or undefined. */
  newest(): Incumbent | undefined;
  /** The highest lower bound told for a tier, the tiers before it being at their best. */
  bound(tier: number): number;
  tellBound(tier: number, bound: number): void;
  tellIncumbent(incumbent: Incumbent): void;
}
