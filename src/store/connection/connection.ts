import type { Prisma, PrismaClient } from '../generated/sqlite/client.ts';
import type { Provider } from '../provider.ts';

/**
 * A Prisma client of either provider. Both are generated from one model source, and the store uses what both have, so
 * the types of one stand for the two.
 */
export type Client = PrismaClient;
export type Queries = Client | Prisma.TransactionClient;

/** What differs between the databases. */
export interface Connection {
  readonly provider: Provider;
  /** Reads never wait for a writer. It writes inside `$transaction` only, which on SQLite begins by taking the write lock. */
  readonly client: Client;
  /** Writers with the same key in one process take turns. */
  turnKey(shopId: string): string;
  /** @throws MissingConstraints unless the database itself forbids two cars in one place */
  assertConstraints(): Promise<void>;
  /** Whether another process was in the way and the transaction may be tried again. */
  lostRace(error: unknown): boolean;
  /** Whether the database refused two cars in one place. */
  doubleBooked(error: unknown): boolean;
  /** Takes the lock under which a shop is written, and counts the change; null when there is no such shop. */
  lock(transaction: Prisma.TransactionClient, shopId: string): Promise<number | null>;
  /** The count of a shop's changes; null when there is no such shop. As long as it stays, nothing of the shop has changed. */
  changesOf(shopId: string): Promise<number | null>;
  /** Tells other processes, at commit, that a shop's outbox grew. */
  announce(transaction: Prisma.TransactionClient, shopId: string): Promise<void>;
  /** Calls back when another process announced, or with null when announcements may have been missed. */
  listen(heard: (shopId: string | null) => void): () => void;
  close(): Promise<void>;
}

/** The database lacks what keeps two cars out of one place: a migration rebuilt the table, or was not applied. */
export class MissingConstraints extends Error {
  readonly missing: readonly string[];
  constructor(missing: readonly string[]) {
    super(`the database does not forbid double bookings: ${missing.join(', ')} missing; apply the migrations`);
    this.missing = missing;
  }
}
