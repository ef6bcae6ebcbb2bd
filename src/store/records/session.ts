import type { Queries } from '../connection/connection.ts';
import type { Author } from '../contract/audit.ts';
import type { Written } from '../contract/written.ts';
import type { Prisma } from '../generated/sqlite/client.ts';
import type { Provider } from '../provider.ts';
import type { DocumentMemory } from './document-memory.ts';
import type { EventMemory } from './event-memory.ts';
import type { Gathered } from './gathered.ts';
import type { PlanMemory } from './plan-memory.ts';
import type { ReadingMemory } from './reading-memory.ts';

/** Where a set of records reads and how it writes: on the store itself, or inside one transaction. */
export interface Session {
  readonly reader: Queries;
  /** Runs `work`, which writes this of the shop and nothing else, under the shop's lock. `''` when no shop is concerned. */
  write<T>(shopId: string, written: Written, work: (transaction: Prisma.TransactionClient) => Promise<T>): Promise<T>;
  /** What a running transaction has gathered so far. */
  gathered(transaction: Prisma.TransactionClient): Gathered;
  /** Writes what the transaction has gathered so far, for whoever reads it within; nothing outside of one. */
  writeGathered(): Promise<void>;
  /** Whether `reader` sees what was committed and nothing else. */
  readonly committed: boolean;
  /** The count of a shop's changes that are committed; null when there is no such shop. */
  changesOf(shopId: string): Promise<number | null>;
  readonly documents: DocumentMemory;
  readonly events: EventMemory;
  readonly plans: PlanMemory;
  readonly readings: ReadingMemory;
  readonly provider: Provider;
  /** In whose name it is written. */
  author(): Author;
  now(): number;
}
