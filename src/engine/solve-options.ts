import type { Objective, Schedule } from './problem/solution.ts';

/** How hard to look, and what to tell on the way. */
export interface SolveOptions {
  /** Same seed, same work budget, same plan. */
  readonly seed: number;
  /** Budget in units of search work. */
  readonly workLimit: number;
  /** Wall-clock interruption in milliseconds, read from `clock`; absent: only the work budget ends the search. */
  readonly timeLimitMs?: number;
  readonly clock?: () => number;
  /** True when somebody wants the search to stop. Asked often; must be cheap. */
  readonly cancelled?: () => boolean;
  /** A schedule to start from (the last plan); it need not obey the rules any more. */
  readonly warmStart?: Schedule;
  /** Told at the first schedule and at each better one. */
  readonly onProgress?: (progress: Progress) => void;
}

export interface Progress {
  readonly schedule: Schedule;
  readonly objective: Objective;
  readonly bound: Objective;
  readonly work: number;
}
