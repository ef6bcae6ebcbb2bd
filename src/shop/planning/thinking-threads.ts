import { Piscina } from 'piscina';
import type { Log } from '../deps.ts';

/** Two at least: whoever waits for an answer does not wait for the search for a better plan. */
const FEWEST = 2;
const IDLE_MS = 30_000;

/**
 * Threads on which plans are made, promises simulated and months drawn: one set for all of it, since each thread holds the
 * engine's code and a heap of its own. One stays, warm. What is run is named with each task and not here: a worker whose code
 * cannot be loaded then fails the task, not the threads. Whoever makes them destroys them.
 */
export function createThinkingThreads({ most, log }: { readonly most: number; readonly log: Log }): Piscina {
  const threads = new Piscina({ minThreads: 1, maxThreads: Math.max(FEWEST, most), idleTimeout: IDLE_MS });
  threads.on('error', (err) => log.error({ err }, 'a thinking thread died outside a task and was replaced'));
  return threads;
}
