import type { Records, Reply, RequestKey, Store } from '../../store/store.ts';
import type { Instant } from '../../trade/model/time.ts';

/** What is known of a request that may be sent twice. */
export type Answer =
  | { readonly kind: 'claimed' }
  | { readonly kind: 'inFlight' }
  /** Claimed so long ago that whoever was to answer is gone; its effect may have happened or not. */
  | { readonly kind: 'lost' }
  | { readonly kind: 'otherBody' }
  | { readonly kind: 'answered'; readonly reply: Reply };

/** Keeps the replies of requests that carry a key, seven days, so that one sent twice has its effect once. */
export interface AnswerOnce {
  begin(key: RequestKey, bodyHash: string): Promise<Answer>;
  complete(key: RequestKey, reply: Reply): Promise<void>;
  /** Forgets a request that failed on our side, so that it may be sent again. */
  abandon(key: RequestKey): Promise<void>;
}

/** Stores the reply to a request in the transaction of its effect; `result` is what the use case will return. */
export type AlsoAnswer<T> = (records: Records, result: T) => Promise<void>;

/** Longer than any plan is searched for. */
const ANSWERED_WITHIN_MS = 10 * 60_000;

/**
 * The store lets a claim be taken over by the same body after a while. A plan may take longer than that, and a process
 * that died may have had its effect: so no two claims carry the same hash here, none is ever taken over, and a
 * request whose answer never came is told so instead of being done a second time.
 */
export function answerOnce(store: Store, clock: () => Instant, newId: () => string): AnswerOnce {
  return {
    async begin(key, bodyHash) {
      const now = clock();
      const result = await store.replies.begin(key, `${bodyHash} ${newId()}`, now);
      if (result.claimed) return { kind: 'claimed' };
      const { found } = result;
      if (found.bodyHash.split(' ')[0] !== bodyHash) return { kind: 'otherBody' };
      if (found.reply !== null) return { kind: 'answered', reply: found.reply };
      return { kind: now - found.createdAt > ANSWERED_WITHIN_MS ? 'lost' : 'inFlight' };
    },
    complete: (key, reply) => store.replies.complete(key, reply),
    abandon: (key) => store.replies.abandon(key),
  };
}
