import { setImmediate } from 'node:timers/promises';
import { solve } from '../../engine/solve.ts';
import { Busy } from '../problems/problems.ts';
import type { Planner } from './planner.ts';

/** Plans on the calling thread: for tests and small tools. A cancellation is seen only before the search begins. */
export function createInProcessPlanner(clock: () => number = () => performance.now()): Planner {
  return {
    async plan(problem, options, onProgress, signal) {
      await setImmediate();
      if (signal?.aborted) throw new Busy('Planning was cancelled before it began.');
      return solve(problem, {
        ...options,
        clock,
        cancelled: () => signal?.aborted ?? false,
        ...(onProgress ? { onProgress } : {}),
      });
    },
    close: async () => {},
  };
}
