import type { Instant } from '../../trade/model/time.ts';

/** A request that may be sent twice: the client's key is unique for a shop, principal and route. */
export interface RequestKey {
  /** The shop's id, or `''` on a route above shops. */
  readonly shopId: string;
  readonly principal: string;
  /** Method and route pattern, `POST /v1/shops/:shopId/jobs`. */
  readonly route: string;
  /** The Idempotency-Key header. */
  readonly key: string;
}

export interface Reply {
  readonly status: number;
  readonly headers: Readonly<Record<string, string>>;
  readonly body: string;
}

export interface RequestRecord {
  readonly bodyHash: string;
  readonly state: 'inFlight' | 'done';
  readonly reply: Reply | null;
  readonly createdAt: Instant;
}

/**
 * Replies to requests with an Idempotency-Key, kept seven days. Begin outside the effect's transaction, complete inside
 * it. The caller decides what a found record means: another body hash 422, in flight 409, done the reply again.
 */
export interface Replies {
  /**
   * Claims the key. A record in flight for over a minute belongs to a process that died and is claimed anew when the
   * body is the same.
   */
  begin(
    key: RequestKey,
    bodyHash: string,
    now: Instant,
  ): Promise<{ claimed: true } | { claimed: false; found: RequestRecord }>;
  /** Stores the reply. @throws NotFound when the key was not begun */
  complete(key: RequestKey, reply: Reply): Promise<void>;
  /** Forgets a request in flight whose effect did not happen (5xx), so that it may be sent again. */
  abandon(key: RequestKey): Promise<void>;
  /** Removes what is older than seven days. Returns how many. */
  purge(now: Instant): Promise<number>;
}
