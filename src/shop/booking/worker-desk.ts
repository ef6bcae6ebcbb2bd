import { LRUCache } from 'lru-cache';
import { Piscina } from 'piscina';
import type { ShopId } from '../../trade/model/ids.ts';
import type { Log } from '../deps.ts';
import { packBook } from '../planning/packed-book.ts';
import { pack } from '../planning/packed-value.ts';
import { PROMPT_NICE } from '../planning/thinking-threads.ts';
import { onThread } from '../planning/thread-task.ts';
import { Busy } from '../problems/problems.ts';
import type { Desk, SoldFrom, StandingBook } from './desk.ts';
import type { PackedTask } from './desk-worker.ts';
import { type DeskReply, MOST_OPEN } from './resident-books.ts';

export interface WorkerDeskOptions {
  readonly seed: number;
  /** The compiled worker (`desk-worker.js`); by default the one beside this file. */
  readonly workerUrl?: URL;
  /** Milliseconds after which a question without an answer is given up and the worker replaced. */
  readonly timeLimitMs: number;
  readonly log: Log;
}

/**
 * A desk on a thread of its own, apart from the threads that plan, so that its books stay open and nobody on the telephone
 * waits for a search. Books are sent when they are not open there.
 */
export function createWorkerDesk({ seed, workerUrl, timeLimitMs, log }: WorkerDeskOptions): Desk & {
  close(): Promise<void>;
} {
  const filename = (workerUrl ?? new URL('./desk-worker.js', import.meta.url)).href;
  const pool = new Piscina({
    minThreads: 1,
    maxThreads: 1,
    idleTimeout: Number.POSITIVE_INFINITY,
    niceIncrement: PROMPT_NICE,
    atomics: 'disabled',
  });
  pool.on('error', (err) => log.error({ err }, 'the desk’s worker died outside a question and was replaced'));
  const open = new LRUCache<ShopId, StandingBook>({ max: MOST_OPEN });
  const unanswered = new Int32Array(new SharedArrayBuffer(4));
  const run = async (task: Omit<PackedTask, 'unanswered'>): Promise<DeskReply> => {
    // Nobody waits for a book to be opened ahead of questions.
    const isAsked = task.question.kind === 'open' ? 0 : 1;
    Atomics.add(unanswered, 0, isAsked);
    try {
      const giveUp = AbortSignal.timeout(timeLimitMs);
      return await onThread<DeskReply>(pool, { ...task, unanswered }, { filename, giveUp, workMs: timeLimitMs });
    } catch (err) {
      log.error({ err }, 'the desk’s worker failed, or did not answer in time');
      open.clear();
      throw new Busy('The book could not be asked; try again.');
    } finally {
      Atomics.sub(unanswered, 0, isAsked);
    }
  };
  return {
    async ask(standing, question, which = 'this') {
      const { shopId, key, book, sold } = standing;
      const task = { shopId, key, which, question, seed };
      const asked = await run({ ...task, ...(sold === undefined ? {} : { sold: packSold(sold) }) });
      const reply = asked.kind === 'notOpen' ? await run({ ...task, book: packBook(book) }) : asked;
      if (reply.kind === 'notOpen') return { kind: 'cannotTell' };
      if (which === 'this' || asked.kind === 'notOpen') open.set(shopId, standing);
      return reply;
    },
    openNow: (shopId) => open.get(shopId) ?? null,
    close: () => pool.destroy(),
  };
}

function packSold({ plan, ...sold }: SoldFrom): PackedTask['sold'] {
  return { ...sold, plan: pack(plan) };
}
