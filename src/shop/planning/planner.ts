import type { Problem } from '../../engine/problem/problem.ts';
import type { Solution } from '../../engine/problem/solution.ts';
import type { Progress, SolveOptions } from '../../engine/solve-options.ts';

/** The solve options that can travel to a worker. */
export type PlanOptions = Pick<SolveOptions, 'seed' | 'workLimit' | 'timeLimitMs' | 'warmStart'>;

/** Solves scheduling problems somewhere else than on the thread that serves requests. */
export interface Planner {
  /**
   * Solves a problem. `signal` cancels: the search stops at once and the best plan so far is returned.
   * @throws Busy when the worker died, or did not answer long after its time limit.
   */
  plan(
    problem: Problem,
    options: PlanOptions,
    onProgress?: (progress: Progress) => void,
    signal?: AbortSignal,
  ): Promise<Solution>;
  /** Stops the workers; plans under way are given up. */
  close(): Promise<void>;
}
