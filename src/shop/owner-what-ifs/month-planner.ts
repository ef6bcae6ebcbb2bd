import type { Piscina } from 'piscina';
import type { Log } from '../deps.ts';
import { createInProcessPlanner } from '../planning/in-process-planner.ts';
import { onThread } from '../planning/thread-task.ts';
import { Busy } from '../problems/problems.ts';
import { type MonthTask, planMonth } from './plan-month.ts';
import type { MonthFigures } from './what-if.ts';

/** Plans drawn months somewhere else than on the thread that serves requests. */
export interface MonthPlanner {
  /** Null when no plan was found. @throws Busy when cancelled, or when the worker died */
  plan(task: MonthTask, signal?: AbortSignal): Promise<MonthFigures | null>;
}

const silent = { info() {}, warn() {}, error() {} };
/** Months are compared: each search ends by its counted work, so that a seed repeats. */
const NEVER_MS = 3_600_000;

/** On the calling thread: for the worker itself, and for tests. */
export const createInProcessMonthPlanner = (seed: number): MonthPlanner => {
  const deps = { planner: createInProcessPlanner(), log: silent, seed, budget: { timeLimitMs: NEVER_MS } };
  return { plan: (task) => planMonth(deps, task) };
};

/** On worker threads. */
export function createWorkerMonthPlanner({
  threads,
  seed,
  log,
  workerUrl = new URL('./month-worker.js', import.meta.url),
}: {
  readonly threads: Piscina;
  readonly seed: number;
  readonly log: Log;
  readonly workerUrl?: URL;
}): MonthPlanner {
  return {
    async plan(task, signal) {
      try {
        const giveUp = signal ?? new AbortController().signal;
        return await onThread<MonthFigures | null>(threads, { task, seed }, { filename: workerUrl.href, giveUp });
      } catch (err) {
        if (signal?.aborted) throw new Busy('Nobody waits for the answer any more.');
        log.error({ err }, 'the worker that plans drawn months failed');
        throw new Busy('The months could not be planned; try again.');
      }
    },
  };
}
