import { setTimeout as pause } from 'node:timers/promises';
import { type Client, type Config, createClient, type InStatement, type ResultSet } from '@libsql/client';

/** How long a transaction waits for another process's write lock. */
const LOCK_WAIT_MS = 5_000;
/** Between two tries for the lock; waiting inside SQLite would stop the whole thread. */
const LOCK_RETRY_MS = 10;

const PRAGMAS = ['journal_mode = WAL', 'synchronous = FULL', 'foreign_keys = ON', 'temp_store = MEMORY'];

export type Use = 'read' | 'write';

/** One connection to a SQLite file that is kept open. */
export interface KeptConnection {
  execute(statement: InStatement): Promise<ResultSet>;
  executeMultiple(script: string): Promise<void>;
  /** Begins a transaction, to write with the write lock taken, and executes its first statement. */
  begin(first: InStatement): Promise<ResultSet>;
  /** Resolves when nothing of it is left to be done, here or on its thread. */
  close(): Promise<void>;
}

/** Opens a connection on this thread, which stands still while a statement runs and while the disk writes at a commit. */
export function keptConnection(config: Config, use: Use): KeptConnection {
  const client = createClient(config);
  const prepare = async () => {
    // Another process may be switching the file to WAL at this very moment.
    await client.execute('PRAGMA busy_timeout = 5000');
    for (const pragma of PRAGMAS) await client.execute(`PRAGMA ${pragma}`);
    await client.execute(`PRAGMA busy_timeout = ${use === 'write' ? 0 : 1_000}`);
  };
  const ready = prepare();
  // Whoever uses the client first gets the rejection; nobody may be waiting yet.
  ready.catch(() => {});
  return {
    async begin(first) {
      await ready;
      await beginWhenFree(client, use === 'write' ? 'BEGIN IMMEDIATE' : 'BEGIN', prepare);
      return client.execute(first);
    },
    async execute(statement) {
      await ready;
      return client.execute(statement);
    },
    async executeMultiple(script) {
      await ready;
      return client.executeMultiple(script);
    },
    close: async () => client.close(),
  };
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
