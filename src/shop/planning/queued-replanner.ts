import type { Author, PlanningQueue, Wanted } from '../../store/store.ts';
import type { ShopId } from '../../trade/model/ids.ts';
import type { Log } from '../deps.ts';
import type { Replanner } from './replanner.ts';

const TRY_AGAIN_MS = 1_000;

/**
 * A replanner that plans nothing itself: what it is asked waits in the database for a planning worker. An ask that cannot be stored, since
 * the database is away, is kept and stored when it is back.
 */
export function createQueuedReplanner(options: {
  readonly queue: PlanningQueue;
  /** In whose name the running code asks. */
  readonly author: () => Author;
  readonly log: Log;
}): Replanner {
  const { queue, author, log } = options;
  const storing = new Map<string, Promise<void>>();
  let closed = false;

  const store = (wanted: Wanted, shopId: ShopId, reason: string) => {
    const ask = { shopId, reason, ...author() };
    const key = `${wanted} ${shopId}`;
    const before = storing.get(key) ?? Promise.resolve();
    const mine = before.then(async () => {
      for (;;) {
        try {
          await queue.ask(wanted, ask);
          return;
        } catch (err) {
          log.warn({ err, shopId, requestId: ask.requestId }, 'a plan could not be asked for; it is asked for again');
          if (closed) return;
          await new Promise((resolve) => setTimeout(resolve, TRY_AGAIN_MS));
        }
      }
    });
    storing.set(key, mine);
    void mine.then(() => {
      if (storing.get(key) === mine) storing.delete(key);
    });
  };

  return {
    ask: (shopId, reason) => store('plan', shopId, reason),
    improve: (shopId) => store('better', shopId, 'a better plan'),
    async settled(shopId) {
      await Promise.all([storing.get(`plan ${shopId}`), storing.get(`better ${shopId}`)]);
    },
    async close() {
      closed = true;
      await Promise.all(storing.values());
    },
  };
}
