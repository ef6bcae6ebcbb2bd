import type { JobId, ShopId } from '../../trade/model/ids.ts';

/** Tables that hold words about a customer outside the customer's own bookings' documents. */
export type TracedTable =
  | 'auditEntry'
  | 'outboxEvent'
  | 'requestReply'
  | 'planVersion'
  | 'floorEvent'
  | 'deskException'
  | 'photo'
  | 'job';

/** A row with its columns of text. */
export interface Trace {
  readonly table: TracedTable;
  readonly key: Readonly<Record<string, string | number>>;
  /** What the row says it is about, such as a booking; null where it does not say. */
  readonly about: string | null;
  readonly texts: Readonly<Record<string, string | null>>;
}

/** What makes a row one to look at: it is of these bookings, or has one of these words in it, as they are written. */
export interface TracedPerson {
  readonly jobIds: readonly JobId[];
  readonly words: readonly string[];
}

/** What is written about a customer in every table, the trail of changes included: to be shown to them, or taken out. */
export interface Traces {
  /** Rows that may say something of the person; some only look so. */
  find(shopId: ShopId, person: TracedPerson): Promise<Trace[]>;
  /** Writes the texts of these rows. For erasure alone: nothing else changes what was recorded. */
  rewrite(shopId: ShopId, traces: readonly Trace[]): Promise<void>;
  /** Removes what serves nothing but talking to the customer or showing the car: queued and sent e-mail, links, photographs. */
  clear(
    shopId: ShopId,
    jobIds: readonly JobId[],
  ): Promise<{ readonly messages: number; readonly links: number; readonly photos: number }>;
}
