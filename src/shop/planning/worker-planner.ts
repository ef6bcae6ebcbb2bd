import { MessageChannel, type MessagePort } from 'node:worker_threads';
import type { Piscina } from 'piscina';
import type { Solution } from '../../engine/problem/solution.ts';
import type { Log } from '../deps.ts';
import { Busy, PlanRejected } from '../problems/problems.ts';
import type { DraftReply, DraftTask } from './draft-worker.ts';
import type { Drafter } from './drafter.ts';
import { packBook } from './packed-book.ts';
import type { PlanNews, PlanTask } from './plan-worker.ts';
import type { Planner } from './planner.ts';
import { planSent } from './sent-plan.ts';
import type { ThinkingThreads } from './thinking-threads.ts';
import { onThread } from './thread-task.ts';

export interface WorkerPlannerOptions {
  readonly threads: ThinkingThreads;
  /** The compiled worker (`plan-worker.js`), `draft-worker.js` beside it; by default those beside this file. */
  readonly workerUrl?: URL;
  /**
   * Milliseconds a worker has to answer after its time limit, or after it was told to stop, before it is replaced. One that gives way
   * to everything else has more: on a busy machine it is not hung, and its successor would begin with nothing compiled.
   */
  readonly graceMs: number;
  readonly log: Log;
}

/** So much longer a worker may take that nobody waits for. */
const PATIENCE = 12;
/** Searches that one draft may make: strictly, with freezes released, with cars set aside. */
const MOST_SEARCHES = 20;
/** What the first plan of each may take on a busy machine, however short the search after it is. */
const FIRST_PLAN_MS = 2_000;

/** Plans on worker threads, and destroys them when it is closed. A worker that dies or does not stop is replaced, and its caller gets `Busy`. */
export function createWorkerPlanner(options: WorkerPlannerOptions): Planner & Drafter {
  const planWorker = options.workerUrl ?? new URL('./plan-worker.js', import.meta.url);
  const draftWorker = new URL('./draft-worker.js', planWorker);

  /** Runs a task that stops when told to; `begin` gets the way to have its worker replaced after some milliseconds. */
  async function onWorker<T>(
    threads: Piscina,
    filename: string,
    signal: AbortSignal | undefined,
    graceMs: number,
    begin: (stop: Int32Array, killAfter: (ms: number) => void) => { task: object; transferList?: MessagePort[] },
  ): Promise<T> {
    if (signal?.aborted) throw new Busy('Planning was cancelled before it began.');
    const stop = new Int32Array(new SharedArrayBuffer(4));
    const kill = new AbortController();
    const timers = new Set<NodeJS.Timeout>();
    const killAfter = (ms: number) => {
      timers.add(setTimeout(() => kill.abort(), ms));
    };
    const askToStop = () => {
      Atomics.store(stop, 0, 1);
      killAfter(graceMs);
    };
    signal?.addEventListener('abort', askToStop, { once: true });
    const { task, transferList } = begin(stop, killAfter);
    try {
      return await onThread<T>(threads, task, {
        filename,
        giveUp: kill.signal,
        ...(transferList ? { transferList } : {}),
      });
    } catch (cause) {
      options.log.error({ err: cause }, 'a planning worker failed and was replaced');
      throw kill.signal.aborted
        ? new Busy('Planning did not end in its time; its worker was replaced.')
        : new Busy(`Planning failed: ${cause instanceof Error ? cause.message : String(cause)}.`);
    } finally {
      signal?.removeEventListener('abort', askToStop);
      for (const timer of timers) clearTimeout(timer);
    }
  }

  return {
    async plan(problem, planOptions, onProgress, signal) {
      const { graceMs } = options;
      const channel = new MessageChannel();
      try {
        return await onWorker<Solution>(options.threads.prompt, planWorker.href, signal, graceMs, (stop, killAfter) => {
          channel.port1.on('message', (news: PlanNews) => {
            // The time limit runs from the start of the work: a task may wait in the queue for a thread.
            if (news.kind === 'progress') onProgress?.(news.progress);
            else if (planOptions.timeLimitMs !== undefined) killAfter(planOptions.timeLimitMs + graceMs);
          });
          const task: PlanTask = { problem, options: planOptions, stop, port: channel.port2 };
          return { task, transferList: [channel.port2] };
        });
      } finally {
        channel.port1.close();
      }
    },
    async draft(book, { signal, ...ask }, terms) {
      const threads = terms.nobodyWaits ? options.threads.patient : options.threads.prompt;
      const graceMs = terms.nobodyWaits ? PATIENCE * options.graceMs : options.graceMs;
      const drafted = onWorker<DraftReply>(threads, draftWorker.href, signal, graceMs, (stop, killAfter) => {
        killAfter(MOST_SEARCHES * Math.max(terms.timeLimitMs, FIRST_PLAN_MS) + graceMs);
        const task: DraftTask = { book: packBook(book), ask, terms, stop };
        return { task };
      });
      const reply = await unlessCancelled(drafted, signal);
      if (reply.kind === 'busy') throw new Busy(reply.message, reply.reasons);
      if (reply.kind === 'drafted') return { ...reply.draft, plan: planSent(reply.plan, book.previousPlan) };
      options.log.error({ violations: reply.violations }, 'a plan broke a rule and was not stored');
      throw new PlanRejected(reply.violations);
    },
    close: () => options.threads.destroy(),
  };
}

/** Whoever cancels wants the next plan now, and does not wait until a busy thread has noticed. @throws Busy when cancelled */
async function unlessCancelled<T>(work: Promise<T>, signal: AbortSignal | undefined): Promise<T> {
  if (signal === undefined) return work;
  let cancel = () => {};
  const cancelled = new Promise<never>((_, reject) => {
    cancel = () => reject(new Busy('Planning was cancelled.'));
  });
  signal.addEventListener('abort', cancel, { once: true });
  if (signal.aborted) cancel();
  try {
    return await Promise.race([work, cancelled]);
  } finally {
    signal.removeEventListener('abort', cancel);
    work.catch(() => {});
    cancelled.catch(() => {});
  }
}
