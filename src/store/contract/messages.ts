import type { MessageKind, MessageState, QueuedMessage } from '../../trade/model/customer-message.ts';
import type { JobId, ShopId } from '../../trade/model/ids.ts';
import type { Instant } from '../../trade/model/time.ts';

/** What makes a message the same as another. */
export interface MessageKey {
  readonly jobId: JobId;
  readonly kind: MessageKind;
  readonly occasion: string;
}

/** How an attempt ended: `queued` is tried again at `dueAt`. */
export interface AttemptOutcome {
  readonly state: Exclude<MessageState, 'sending'>;
  readonly at: Instant;
  readonly dueAt?: Instant;
  /** At most 500 characters are kept. */
  readonly fault: string;
}

/**
 * The queue of e-mail to customers. A row is written in the transaction of what it tells; whoever sends it claims it
 * first, and of many that claim one row at once one succeeds.
 */
export interface Messages {
  /** Returns false, and changes nothing, when the same message is there already. @throws UnknownReference (job) */
  queue(
    shopId: ShopId,
    message: MessageKey & { readonly queuedAt: Instant; readonly dueAt: Instant },
  ): Promise<boolean>;
  get(shopId: ShopId, key: MessageKey): Promise<QueuedMessage | null>;
  /** Oldest first. */
  listByJob(shopId: ShopId, jobId: JobId): Promise<QueuedMessage[]>;
  /** Queued messages whose time has come, the longest due first. */
  due(shopId: ShopId, now: Instant, limit: number): Promise<QueuedMessage[]>;
  /** Takes a queued message in hand and counts the attempt. Returns false when somebody else was first. */
  claim(shopId: ShopId, key: MessageKey, claim: string, now: Instant): Promise<boolean>;
  /** Writes how the attempt under a claim ended. Returns false when the claim no longer holds. */
  settle(shopId: ShopId, key: MessageKey, claim: string, outcome: AttemptOutcome): Promise<boolean>;
  /** What was claimed before an instant and never settled. */
  overdue(shopId: ShopId, claimedBefore: Instant): Promise<QueuedMessage[]>;
  /** Makes `unknown` what was claimed before an instant and never settled: its sender is gone. Returns which. */
  giveUpClaims(shopId: ShopId, claimedBefore: Instant, at: Instant, fault: string): Promise<QueuedMessage[]>;
}
