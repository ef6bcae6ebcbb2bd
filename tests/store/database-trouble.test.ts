import { createServer, type Socket } from 'node:net';
import { createClient } from '@libsql/client';
import pg from 'pg';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { databaseTrouble } from '../../src/store/database-trouble.ts';
import { migrate } from '../../src/store/migration/migrate.ts';
import { openStore } from '../../src/store/open-store.ts';
import { type FreshDatabase, freshDatabase, isAvailable } from './fresh-database.ts';
import { aJob, jobId, stockedShop } from './samples.ts';

const failure = (work: Promise<unknown>): Promise<unknown> =>
  work.then(
    () => null,
    (error: unknown) => error,
  );

describe('trouble with a SQLite file', () => {
  it('a file that may grow no more is full; it still reads, and writes again once it may', async () => {
    const database = await freshDatabase('sqlite');
    const { databaseUrl } = database;
    await migrate({ databaseUrl });
    const client = createClient({ url: databaseUrl });
    const size = async () => Number((await client.execute('PRAGMA page_count')).rows[0]![0]);
    // SQLite's own quota gives the very error of a full disk.
    await client.execute(`PRAGMA max_page_count = ${await size()}`);
    const fill = () => client.execute('CREATE TABLE "Filler" AS SELECT hex(zeroblob(2000000)) AS "bytes"');
    expect(databaseTrouble(await failure(fill()))).toBe('full');
    expect(await size()).toBeGreaterThan(1);
    await client.execute('PRAGMA max_page_count = 1000000');
    expect(await failure(fill())).toBeNull();
    client.close();
    await database.dispose();
  });

  it('a connection that may not write is read-only', async () => {
    const database = await freshDatabase('sqlite');
    await migrate({ databaseUrl: database.databaseUrl });
    const client = createClient({ url: database.databaseUrl });
    await client.execute('PRAGMA query_only = ON');
    expect(databaseTrouble(await failure(client.execute('DELETE FROM "Shop"')))).toBe('readOnly');
    client.close();
    await database.dispose();
  });
});

describe.skipIf(!isAvailable('postgresql'))('trouble with a PostgreSQL', () => {
  let database: FreshDatabase;
  beforeEach(async () => {
    database = await freshDatabase('postgresql');
    await migrate({ databaseUrl: database.databaseUrl });
  });
  afterEach(() => database.dispose());

  it('a server that is not there is unreachable', async () => {
    const url = new URL(database.databaseUrl);
    url.port = '1';
    expect(databaseTrouble(await failure(openStore({ databaseUrl: url.href })))).toBe('unreachable');
  });

  it('a line that breaks is unreachable, what was under way is not done, and what follows is', async () => {
    const line = await aLine(Number(new URL(database.databaseUrl).port));
    const url = new URL(database.databaseUrl);
    url.port = String(line.port);
    const store = await openStore({ databaseUrl: url.href });
    const shopId = await stockedShop(store);
    const broken = await failure(
      store.transaction(shopId, async (records) => {
        await records.jobs.put(shopId, aJob('begun'), 'new');
        line.breakNow();
        await records.jobs.put(shopId, aJob('second'), 'new');
      }),
    );
    expect(databaseTrouble(broken)).toBe('unreachable');
    line.mend();
    await store.jobs.put(shopId, aJob('after'), 'new');
    expect((await store.jobs.listOpen(shopId)).map(({ value }) => value.id)).toContain('after');
    expect(await store.jobs.get(shopId, jobId('begun'))).toBeNull();
    await store.close();
    await line.close();
  });

  it('one that takes no changes, as a standby, is read-only and still reads', async () => {
    const { databaseUrl } = database;
    const before = await openStore({ databaseUrl });
    const shopId = await stockedShop(before);
    await before.close();
    const client = new pg.Client({ connectionString: databaseUrl });
    await client.connect();
    const name = new URL(databaseUrl).pathname.slice(1);
    await client.query(`ALTER DATABASE ${name} SET default_transaction_read_only = on`);
    await client.end();
    const store = await openStore({ databaseUrl });
    expect(databaseTrouble(await failure(store.jobs.put(shopId, aJob('late'), 'new')))).toBe('readOnly');
    expect(await store.shops.get(shopId)).not.toBeNull();
    await store.close();
  });
});

it('an error of the application is no trouble of the database', () => {
  expect(databaseTrouble(new Error('a fault of its own'))).toBeNull();
  expect(databaseTrouble(Object.assign(new Error('a key is there twice'), { code: '23505' }))).toBeNull();
  expect(databaseTrouble(Object.assign(new Error('no such table'), { code: 'SQLITE_ERROR', rawCode: 1 }))).toBeNull();
});

/** A line to a port that can be broken and mended. */
async function aLine(target: number) {
  const { connect } = await import('node:net');
  let isBroken = false;
  const open = new Set<Socket>();
  const server = createServer((client) => {
    if (isBroken) return client.destroy();
    const upstream = connect(target, '127.0.0.1');
    for (const socket of [client, upstream]) {
      open.add(socket);
      socket.on('error', () => {});
    }
    client.pipe(upstream).pipe(client);
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  return {
    port: (server.address() as { port: number }).port,
    breakNow() {
      isBroken = true;
      for (const socket of open) socket.destroy();
      open.clear();
    },
    mend: () => {
      isBroken = false;
    },
    close: () => new Promise((resolve) => server.close(resolve)),
  };
}
