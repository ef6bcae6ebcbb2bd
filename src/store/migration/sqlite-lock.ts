import { setTimeout as pause } from 'node:timers/promises';
import { createClient, type Transaction } from '@libsql/client';

const LOCK_WAIT_MS = 60_000;
const LOCK_RETRY_MS = 50;

/**
 * Lets one process at a time migrate a SQLite file; PostgreSQL has the engine's own lock. The lock is a transaction on an
 * empty file beside the database, which the system releases should the process die.
 * @throws when another process has been migrating for a minute
 */
export async function whileOthersWait<T>(databasePath: string, work: () => Promise<T>): Promise<T> {
  const client = createClient({ url: `file:${databasePath}-migration` });
  const deadline = performance.now() + LOCK_WAIT_MS;
  try {
    let lock: Transaction | undefined;
    while (lock === undefined) {
      try {
        lock = await client.transaction('write');
      } catch (error) {
        if ((error as { code?: string }).code !== 'SQLITE_BUSY' || performance.now() > deadline) throw error;
        await pause(LOCK_RETRY_MS);
      }
    }
    try {
      return await work();
    } finally {
      lock.close();
    }
  } finally {
    client.close();
  }
}
