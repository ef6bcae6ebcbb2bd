import type { Queries } from '../connection/connection.ts';
import type { Prisma } from '../generated/sqlite/client.ts';
import type { Provider } from '../provider.ts';

/** Where a set of records reads and how it writes: on the store itself, or inside one transaction. */
export interface Session {
  readonly reader: Queries;
  /** Runs `work` under the shop's lock. `''` when no shop is concerned. */
  write<T>(shopId: string, work: (transaction: Prisma.TransactionClient) => Promise<T>): Promise<T>;
  /** Notes that a shop's outbox grew, to be told after the commit. */
  announce(transaction: Prisma.TransactionClient, shopId: string): Promise<void>;
  readonly provider: Provider;
  now(): number;
}
