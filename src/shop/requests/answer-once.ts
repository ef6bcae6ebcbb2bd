import type { Reply, RequestKey, Store } from '../../store/store.ts';
import type { Instant } from '../../trade/model/time.ts';

/** What is known of a request that may be sent twice. */
export type Answer =
  | { readonly kind: 'claimed' }
  | { readonly kind: 'inFlight' }
  | { readonly kind: 'otherBody' }
  | { readonly kind: 'answered'; readonly reply: Reply };

/** Keeps the replies of requests that carry a key, seven days, so that one sent twice has its effect once. */
export interface AnswerOnce {
  begin(key: RequestKey, bodyHash: string): Promise<Answer>;
  complete(key: RequestKey, reply: Reply): Promise<void>;
  /** Forgets a request that failed on our side, so that it may be sent again. */
  abandon(key: RequestKey): Promise<void>;
}

export function answerOnce(store: Store, clock: () => Instant): AnswerOnce {
  return {
    async begin(key, bodyHash) {
      const result = await store.replies.begin(key, bodyHash, clock());
      if (result.claimed) return { kind: 'claimed' };
      const { found } = result;
      if (found.bodyHash !== bodyHash) return { kind: 'otherBody' };
      return found.reply === null ? { kind: 'inFlight' } : { kind: 'answered', reply: found.reply };
    },
    complete: (key, reply) => store.replies.complete(key, reply),
    abandon: (key) => store.replies.abandon(key),
  };
}
