import type { Piscina } from 'piscina';
import type { Log } from '../deps.ts';
import { packBook } from '../planning/packed-book.ts';
import { onThread } from '../planning/thread-task.ts';
import { Busy } from '../problems/problems.ts';
import type { OutlookTask } from './outlook-worker.ts';
import type { Outlooks } from './outlooks.ts';
import type { PlanOutlook } from './plan-outlook.ts';

export interface WorkerOutlooksOptions {
  readonly threads: Piscina;
  readonly seed: number;
  /** The compiled worker (`outlook-worker.js`); by default the one beside this file. */
  readonly workerUrl?: URL;
  /** Milliseconds after which an outlook is given up and the worker replaced. */
  readonly timeLimitMs: number;
  readonly log: Log;
}

/** Simulates on worker threads. */
export function createWorkerOutlooks({ threads, seed, workerUrl, timeLimitMs, log }: WorkerOutlooksOptions): Outlooks {
  const filename = (workerUrl ?? new URL('./outlook-worker.js', import.meta.url)).href;
  return {
    async of(book, days) {
      try {
        const packed = packBook(book);
        const task: OutlookTask = { book: packed, seed, ...(days === undefined ? {} : { days }) };
        const giveUp = AbortSignal.timeout(timeLimitMs);
        return await onThread<PlanOutlook>(threads, task, { filename, giveUp, workMs: timeLimitMs });
      } catch (err) {
        log.error({ err }, 'the simulation’s worker failed, or did not answer in time');
        throw new Busy('The plan could not be simulated; try again.');
      }
    },
  };
}
