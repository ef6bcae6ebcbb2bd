import { setTimeout as pause } from 'node:timers/promises';
import type { PlanningQueue, Taken } from '../../store/store.ts';
import type { ShopId } from '../../trade/model/ids.ts';
import type { Log } from '../deps.ts';

export interface QueuedWork {
  /** Takes nothing more; resolves when what was begun is done, or handed back after the grace. */
  stop(graceMs: number): Promise<void>;
}

export interface QueuedWorkOptions {
  readonly queue: PlanningQueue;
  /** Makes and publishes the first plan that obeys every rule. */
  readonly replan: (shopId: ShopId, reason: string, signal: AbortSignal) => Promise<unknown>;
  /** Looks for a better plan; cancelled when a plan is asked for of the same shop. */
  readonly improve: (shopId: ShopId, signal: AbortSignal) => Promise<unknown>;
  /** Runs work in the name of whoever asked for it. */
  readonly inTheNameOf: <T>(ask: Taken, work: () => Promise<T>) => Promise<T>;
  /** Plans made at once. */
  readonly atOnce: number;
  /** Between two looks at an empty queue. */
  readonly idleMs: number;
  readonly log: Log;
}

/** Another process plans this shop: it is asked for again, so that others are not kept waiting. */
const SHOP_TAKEN_MS = 200;

/**
 * Takes asks off the queue and plans, one plan at a time of a shop in all processes together. A plan that was made twice, since the
 * database lost sight of who made it, is published once: publishing compares and swaps the plan's version.
 */
export function planQueued(options: QueuedWorkOptions): QueuedWork {
  const { queue, log } = options;
  const stopping = new AbortController();
  const handBack = new AbortController();
  const improving = new Map<ShopId, AbortController>();

  const carryOut = async (taken: Taken): Promise<void> => {
    const { shopId, reason, wanted } = taken;
    const began = performance.now();
    if (wanted === 'plan') {
      improving.get(shopId)?.abort();
      await options.replan(shopId, reason, handBack.signal);
      await queue.ask('better', { shopId, reason: 'a better plan', who: taken.who, requestId: taken.requestId });
    } else {
      const cancelled = new AbortController();
      improving.set(shopId, cancelled);
      try {
        await options.improve(shopId, AbortSignal.any([cancelled.signal, handBack.signal]));
      } finally {
        improving.delete(shopId);
      }
    }
    const ms = Math.round(performance.now() - began);
    log.info({ shopId, wanted, reason, requestId: taken.requestId, ms }, 'planned');
  };

  const handle = async (taken: Taken): Promise<void> => {
    const { shopId, wanted, requestId } = taken;
    try {
      const mine = await queue.alone(shopId, async () => {
        await options.inTheNameOf(taken, () => carryOut(taken));
        return true;
      });
      if (mine === null) {
        if (wanted === 'plan') improving.get(shopId)?.abort();
        await pause(SHOP_TAKEN_MS);
        await queue.ask(wanted, taken);
      }
      await taken.done();
    } catch (err) {
      if (handBack.signal.aborted) {
        await queue.ask(wanted, taken);
        return taken.done();
      }
      // A search that gave way to a new plan is followed by another one.
      if (wanted === 'better') {
        log.info({ err, shopId, requestId }, 'no better plan was looked for; the plan that stood stays');
        return taken.done();
      }
      log.error({ err, shopId, requestId }, 'planning failed and is tried again; the plan that stood stays');
      await taken.failed(err);
    }
  };

  const loop = async (): Promise<void> => {
    while (!stopping.signal.aborted) {
      try {
        const taken = await queue.take();
        if (taken === null) await pause(options.idleMs, undefined, { signal: stopping.signal });
        else await handle(taken);
      } catch (err) {
        if (stopping.signal.aborted) return;
        log.warn({ err }, 'the queue of plans cannot be read and is looked at again');
        await pause(options.idleMs);
      }
    }
  };
  const loops = Promise.all(Array.from({ length: options.atOnce }, loop));

  return {
    async stop(graceMs) {
      stopping.abort();
      for (const each of improving.values()) each.abort();
      const late = setTimeout(() => handBack.abort(), graceMs);
      await loops;
      clearTimeout(late);
    },
  };
}
