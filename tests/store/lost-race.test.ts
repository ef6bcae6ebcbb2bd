import { createClient } from '@libsql/client';
import { expect, it } from 'vitest';
import type { Connection } from '../../src/store/connection/connection.ts';
import { connectPostgresql } from '../../src/store/connection/postgresql.ts';
import { connectSqlite } from '../../src/store/connection/sqlite.ts';
import { storeOver } from '../../src/store/open-store.ts';
import { type Given, onEachDatabase } from './fresh-database.ts';
import { aJob, at, jobId, stockedShop } from './samples.ts';

onEachDatabase('a transaction that loses a race', (given) => {
  it('is tried again, and its work counts once', async () => {
    const shopId = await stockedShop(given().store);
    const warnings: string[] = [];
    const store = losing(given(), 2, { warn: (_, message) => warnings.push(message) });
    let runs = 0;
    await store.transaction(shopId, async (records) => {
      runs += 1;
      await records.jobs.put(shopId, aJob('raced'), 'new');
    });
    expect((await store.jobs.get(shopId, jobId('raced')))?.version).toBe(1);
    expect(runs).toBe(1);
    expect(warnings).toHaveLength(2);
    await store.close();
  });

  it('is given up after five tries', async () => {
    const shopId = await stockedShop(given().store);
    const warnings: string[] = [];
    const store = losing(given(), Number.POSITIVE_INFINITY, { warn: (_, message) => warnings.push(message) });
    await expect(store.transaction(shopId, async () => {})).rejects.toThrow();
    expect(warnings).toHaveLength(4);
    await store.close();
  });

  it('is not tried again for any other error', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    let runs = 0;
    const failing = store.transaction(shopId, async () => {
      runs += 1;
      throw new Error('a fault of its own');
    });
    await expect(failing).rejects.toThrow('a fault of its own');
    expect(runs).toBe(1);
  });
});

/** A store whose first transactions meet what the database itself says of a lost race. */
function losing(
  { provider, databaseUrl }: Given,
  times: number,
  logger: { warn(detail: object, message: string): void },
) {
  const connection = provider === 'sqlite' ? connectSqlite(databaseUrl) : connectPostgresql(databaseUrl);
  let lost = 0;
  const lock: Connection['lock'] = async (transaction, shopId) => {
    if (lost < times) {
      lost += 1;
      if (provider === 'sqlite') {
        await transaction.$queryRaw`SELECT 1`;
        await beBusy(databaseUrl);
      } else await transaction.$executeRawUnsafe(SERIALIZATION_FAILURE);
    }
    return connection.lock(transaction, shopId);
  };
  return storeOver({ ...connection, lock }, () => at(0), logger);
}

/** PostgreSQL Documentation, appendix A: class 40, transaction rollback. */
const SERIALIZATION_FAILURE = `DO $$ BEGIN RAISE EXCEPTION 'try again' USING ERRCODE = '40001'; END $$`;

/** The transaction around has begun, and so holds the write lock: another connection is refused. */
async function beBusy(databaseUrl: string): Promise<void> {
  const client = createClient({ url: databaseUrl });
  try {
    await client.execute('BEGIN IMMEDIATE');
  } finally {
    client.close();
  }
}
