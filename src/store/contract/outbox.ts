import type { ShopId } from '../../trade/model/ids.ts';
import type { Instant } from '../../trade/model/time.ts';

/** Something that a listener outside should hear of. `kind` as `plan.published`; `subject` an id or path. */
export interface OutboxEvent {
  readonly kind: string;
  readonly subject: string;
  readonly at: Instant;
  /** JSON-serialisable. */
  readonly body: unknown;
}

export interface NumberedEvent extends OutboxEvent {
  /** From 1, without gaps, in the order of commit within the shop. */
  readonly sequence: number;
}

export interface Outbox {
  /**
   * Tells an event in the transaction of what it tells of, at whose end it is numbered and stored.
   * @throws UnknownReference, there, when the shop is not there
   */
  append(shopId: ShopId, event: OutboxEvent): Promise<void>;
  /** Events after a number, oldest first; `limit` 500 when left out. */
  listAfter(shopId: ShopId, sequence: number, limit?: number): Promise<NumberedEvent[]>;
  /** Number of the newest event; 0 when there is none. */
  lastSequence(shopId: ShopId): Promise<number>;
  /** Shops whose newest news is not of a plan: something may have happened that no plan knows of. */
  shopsWithNewsSincePlan(): Promise<ShopId[]>;
  /** Removes events before an instant; numbers are never given again. Returns how many. */
  purge(shopId: ShopId, before: Instant): Promise<number>;
}
