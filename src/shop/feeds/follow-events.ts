import type { NumberedEvent, Store } from '../../store/store.ts';
import type { ShopId } from '../../trade/model/ids.ts';

/** Follows what a shop tells, from a number on, in order and without gaps, until `signal` aborts. */
export type FollowEvents = (shopId: ShopId, after: number | null, signal: AbortSignal) => AsyncGenerator<NumberedEvent>;

/**
 * Reads the outbox and, when it is empty, sleeps until the store says that something was appended. A wake-up carries
 * nothing but the news that there is news: the number decides what is sent, so none is lost or sent twice.
 */
export function followEvents(store: Store): FollowEvents {
  return async function* follow(shopId, after, signal) {
    let wake = () => {};
    const nextNews = () => new Promise<void>((resolve) => (wake = resolve));
    let news = nextNews();
    const stop = store.onOutbox((changed) => {
      if (changed === shopId) wake();
    });
    const onAbort = () => wake();
    signal.addEventListener('abort', onAbort);
    try {
      let last = after ?? (await store.outbox.lastSequence(shopId));
      while (!signal.aborted) {
        const events = await store.outbox.listAfter(shopId, last);
        for (const event of events) {
          if (signal.aborted) return;
          yield event;
          last = event.sequence;
        }
        if (events.length > 0) continue;
        await news;
        news = nextNews();
      }
    } finally {
      stop();
      signal.removeEventListener('abort', onAbort);
    }
  };
}
