import { setTimeout as pause } from 'node:timers/promises';
import type { Client, Config, InStatement, ResultSet, Transaction } from '@libsql/client';
import { PrismaLibSql } from '@prisma/adapter-libsql';

/** How long a transaction waits for another process's write lock. */
const LOCK_WAIT_MS = 5_000;
/** Between two tries for the lock; waiting inside SQLite would stop the whole process. */
const LOCK_RETRY_MS = 10;

const PRAGMAS = ['journal_mode = WAL', 'synchronous = FULL', 'foreign_keys = ON', 'temp_store = MEMORY'];

/**
 * Prisma's adapter over one connection that is kept. The adapter's own client opens a connection for every transaction,
 * each without these pragmas and closed only by the garbage collector, and begins transactions without the write lock,
 * so that two of them that read before they write can never both go on.
 */
export class OneConnectionLibSql extends PrismaLibSql {
  readonly #begin: 'BEGIN' | 'BEGIN IMMEDIATE';
  readonly #busyMs: number;

  constructor(config: Config, use: 'read' | 'write') {
    super(config);
    this.#begin = use === 'write' ? 'BEGIN IMMEDIATE' : 'BEGIN';
    this.#busyMs = use === 'write' ? 0 : 1_000;
  }

  override createClient(config: Config): Client {
    const client = super.createClient(config);
    const prepare = async () => {
      // Another process may be switching the file to WAL at this very moment.
      await client.execute('PRAGMA busy_timeout = 5000');
      for (const pragma of PRAGMAS) await client.execute(`PRAGMA ${pragma}`);
      await client.execute(`PRAGMA busy_timeout = ${this.#busyMs}`);
    };
    const ready = prepare();
    // Whoever uses the client first gets the rejection; nobody may be waiting yet.
    ready.catch(() => {});
    const begin = this.#begin;
    const kept = {
      async execute(statement: InStatement): Promise<ResultSet> {
        await ready;
        return client.execute(statement);
      },
      async executeMultiple(script: string): Promise<void> {
        await ready;
        return client.executeMultiple(script);
      },
      async transaction(): Promise<Transaction> {
        await ready;
        await beginWhenFree(client, begin, prepare);
        return {
          execute: (statement: InStatement) => client.execute(statement),
          commit: async () => void (await client.execute('COMMIT')),
          rollback: async () => void (await client.execute('ROLLBACK')),
        } as Transaction;
      },
      close: () => client.close(),
    };
    return kept as unknown as Client;
  }
}

/**
 * Begins a transaction once no other connection has the lock. A statement that was refused as busy stays unfinished in
 * the driver until it is collected, and no transaction of its connection could be committed before. So the lock is
 * tried by a script, which leaves nothing, and the connection is made anew should another process slip in between.
 */
async function beginWhenFree(client: Client, begin: string, prepare: () => Promise<void>): Promise<void> {
  const deadline = performance.now() + LOCK_WAIT_MS;
  const isBusy = (error: unknown) =>
    (error as { code?: string }).code === 'SQLITE_BUSY' && performance.now() < deadline;
  for (;;) {
    try {
      await client.executeMultiple(`${begin}; COMMIT`);
    } catch (error) {
      if (!isBusy(error)) throw error;
      await pause(LOCK_RETRY_MS);
      continue;
    }
    try {
      await client.execute(begin);
      return;
    } catch (error) {
      if (!isBusy(error)) throw error;
      await client.reconnect();
      await prepare();
    }
  }
}
