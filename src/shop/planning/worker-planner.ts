import { MessageChannel } from 'node:worker_threads';
import { Piscina } from 'piscina';
import type { Solution } from '../../engine/problem/solution.ts';
import type { Log } from '../deps.ts';
import { Busy } from '../problems/problems.ts';
import type { PlanNews, PlanTask } from './plan-worker.ts';
import type { Planner } from './planner.ts';

export interface WorkerPlannerOptions {
  /** Most worker threads, two at least; one of them stays, warm. */
  readonly workers: number;
  /** The compiled worker (`plan-worker.js`); by default the one beside this file. */
  readonly workerUrl?: URL;
  /** Milliseconds a worker has to answer after its time limit, or after it was told to stop, before it is replaced. */
  readonly graceMs: number;
  readonly log: Log;
}

/** Plans on worker threads. A worker that dies or does not stop is replaced, and its caller gets `Busy`. */
export function createWorkerPlanner(options: WorkerPlannerOptions): Planner {
  const filename = (options.workerUrl ?? new URL('./plan-worker.js', import.meta.url)).href;
  // The file is named with each task and not here: a worker whose code cannot be loaded then fails the task, not the pool.
  const pool = new Piscina({
    minThreads: 1,
    // Two at least: whoever waits for a quote does not wait for the search for a better plan.
    maxThreads: Math.max(2, options.workers),
    idleTimeout: 60_000,
  });
  pool.on('error', (err) => options.log.error({ err }, 'a planning worker died outside a task and was replaced'));

  return {
    async plan(problem, planOptions, onProgress, signal) {
      const stop = new Int32Array(new SharedArrayBuffer(4));
      const kill = new AbortController();
      const timers = new Set<NodeJS.Timeout>();
      const killAfter = (ms: number) => timers.add(setTimeout(() => kill.abort(), ms));
      const askToStop = () => {
        Atomics.store(stop, 0, 1);
        killAfter(options.graceMs);
      };
      if (signal?.aborted) throw new Busy('Planning was cancelled before it began.');
      signal?.addEventListener('abort', askToStop, { once: true });
      const channel = new MessageChannel();
      channel.port1.on('message', (news: PlanNews) => {
        // The time limit runs from the start of the work: a task may wait in the queue for a thread.
        if (news.kind === 'progress') onProgress?.(news.progress);
        else if (planOptions.timeLimitMs !== undefined) killAfter(planOptions.timeLimitMs + options.graceMs);
      });
      const task: PlanTask = { problem, options: planOptions, stop, port: channel.port2 };
      try {
        return (await pool.run(task, {
          filename,
          signal: kill.signal,
          transferList: [channel.port2],
        })) as Solution;
      } catch (cause) {
        options.log.error({ err: cause }, 'a planning worker failed and was replaced');
        throw kill.signal.aborted
          ? new Busy('Planning did not end in its time; its worker was replaced.')
          : new Busy(`Planning failed: ${cause instanceof Error ? cause.message : String(cause)}.`);
      } finally {
        signal?.removeEventListener('abort', askToStop);
        for (const timer of timers) clearTimeout(timer);
        channel.port1.close();
      }
    },
    close: () => pool.destroy(),
  };
}
