import type { ShopId } from '../../trade/model/ids.ts';
import type { Instant } from '../../trade/model/time.ts';

/** In whose name something is written: who asked, and in which request. */
export interface Author {
  readonly who: string;
  readonly requestId: string;
}

/** Nobody asked: the server does it by itself. */
export const THE_SERVER: Author = { who: 'server', requestId: '' };

/** One change: who, when, of what, from what to what. Documents as JSON; null where there was or is none. */
export interface AuditEntry extends Author {
  readonly id: string;
  readonly at: Instant;
  /** `job`, `place`, `account`, `plan` and so on. */
  readonly kind: string;
  /** Identifier of what was changed. */
  readonly subject: string;
  readonly before: string | null;
  readonly after: string | null;
}

export interface AuditFilter {
  readonly kind?: string;
  readonly subject?: string;
  /** Entries before this one; it is the id of the last that was shown. */
  readonly beforeId?: string;
  readonly limit: number;
}

/**
 * What was changed and by whom. Entries are written with the change, in its transaction, and never altered, but for what they
 * hold of a customer who was erased (`Traces`).
 */
export interface Audit {
  /** The newest first. */
  list(shopId: ShopId, filter: AuditFilter): Promise<AuditEntry[]>;
  /** Notes what the records above do not note by themselves. */
  note(shopId: ShopId, entry: { kind: string; subject: string; after: unknown }): Promise<void>;
  /** Removes entries older than an instant. Returns how many. */
  purge(shopId: ShopId, before: Instant): Promise<number>;
}
