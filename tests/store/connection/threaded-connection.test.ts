import { execFile } from 'node:child_process';
import { promisify } from 'node:util';
import { afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { connectSqlite } from '../../../src/store/connection/sqlite.ts';
import { migrate } from '../../../src/store/migration/migrate.ts';
import { storeOver } from '../../../src/store/open-store.ts';
import type { Store } from '../../../src/store/store.ts';
import { type FreshDatabase, freshDatabase } from '../fresh-database.ts';
import { aJob, aPlan, aShop, at, jobId, occupancyOf, stockedShop } from '../samples.ts';

const compiled = new URL('../../../.cache/store-tests/', import.meta.url);
const thread = new URL('store/connection/sqlite-thread.js', compiled);

/** Threads run compiled JavaScript. Errors in files that are being edited do not keep the compiler from writing. */
beforeAll(async () => {
  const tsc = new URL('../../../node_modules/typescript/bin/tsc', import.meta.url).pathname;
  const run = promisify(execFile)(process.execPath, [tsc, '-p', 'tsconfig.build.json', '--outDir', compiled.pathname], {
    cwd: new URL('../../../', import.meta.url).pathname,
  });
  await run.catch(() => {});
}, 120_000);

describe('SQLite written on a thread of its own', () => {
  let database: FreshDatabase;
  const stores: Store[] = [];
  const open = () => {
    const store = storeOver(connectSqlite(database.databaseUrl, thread), Date.now);
    stores.push(store);
    return store;
  };
  beforeEach(async () => {
    database = await freshDatabase('sqlite');
    await migrate({ databaseUrl: database.databaseUrl });
  });
  afterEach(async () => {
    for (const store of stores.splice(0)) await store.close();
    await database.dispose();
  });

  it('keeps what it wrote, and nothing of a transaction that failed', async () => {
    const store = open();
    const shopId = await stockedShop(store);
    const visits = [{ jobId: 'j1', placeId: 'bay1', from: 8, to: 12, technicianId: 'ann' }];
    const first = { shopId, expectedVersion: 0, plan: aPlan(1, visits), occupancy: occupancyOf(visits), now: at(0) };
    await store.plans.publish(first);
    const failing = store.transaction(shopId, async (records) => {
      await records.jobs.put(shopId, aJob('j1', { notes: 'never' }), 1);
      throw new Error('never mind');
    });
    await expect(failing).rejects.toThrow('never mind');
    const elsewhere = open();
    expect(await elsewhere.plans.current(shopId)).toEqual(aPlan(1, visits));
    expect((await elsewhere.jobs.get(shopId, jobId('j1')))?.value.notes).toBe('');
  });

  it('loses no update when two processes read and then write', async () => {
    const stores = [open(), open()];
    await stores[0]!.shops.put(aShop('counted', { labourRatePerHourMinor: 0 }), 'new');
    const { id } = aShop('counted');
    const addOne = (store: Store) =>
      store.transaction(id, async (records) => {
        const { value, version } = (await records.shops.get(id))!;
        await records.shops.put({ ...value, labourRatePerHourMinor: value.labourRatePerHourMinor + 1 }, version);
      });
    await Promise.all(Array.from({ length: 20 }, (_, k) => addOne(stores[k % 2]!)));
    expect((await stores[1]!.shops.get(id))?.value.labourRatePerHourMinor).toBe(20);
  });

  it('tells what the database refused as it does without the thread: the same id twice, two cars in one place', async () => {
    const store = open();
    const shopId = await stockedShop(store);
    const connection = connectSqlite(database.databaseUrl, thread);
    const stay = (from: number) => ({
      ...{ shopId, placeId: 'bay1', owner: 'j1', jobId: 'j1' },
      startsAt: BigInt(at(from)),
      endsAt: BigInt(at(from + 4)),
    });
    const insert = (from: number) =>
      connection.client.$transaction((transaction) => transaction.occupancy.create({ data: stay(from) }));
    await insert(8);
    const again = connection.client.$transaction((transaction) =>
      transaction.airZone.create({ data: { shopId, id: 'hall', version: 1, updatedAt: 0n, document: '{}' } }),
    );
    await expect(again).rejects.toMatchObject({ code: 'P2002' });
    const refused = await insert(9).catch((error: unknown) => error);
    expect(connection.doubleBooked(refused)).toBe(true);
    await connection.close();
  });

  it('that cannot be started fails what is asked of it, and not the process', async () => {
    const missing = new URL('no-such-thread.js', compiled);
    const store = storeOver(connectSqlite(database.databaseUrl, missing), Date.now);
    stores.push(store);
    await expect(store.shops.put(aShop('nowhere'), 'new')).rejects.toThrow();
    expect(await store.shops.list()).toEqual([]);
  });
});
