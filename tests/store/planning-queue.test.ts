import pg from 'pg';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openPlanningQueue } from '../../src/store/planning-queue.ts';
import type { PlanningQueue } from '../../src/store/store.ts';
import type { ShopId } from '../../src/trade/model/ids.ts';
import { type FreshDatabase, freshDatabase, isAvailable } from './fresh-database.ts';

const ask = (shop: string, reason = 'floor: finished') => ({
  shopId: shop as ShopId,
  reason,
  who: 'account:desk',
  requestId: `request-of-${shop}`,
});

describe.skipIf(!isAvailable('postgresql'))('plans that wait in PostgreSQL', () => {
  let database: FreshDatabase;
  const queues: PlanningQueue[] = [];
  /** As another process has it. */
  const open = async () => {
    const queue = await openPlanningQueue(database.databaseUrl);
    queues.push(queue);
    return queue;
  };
  beforeEach(async () => {
    database = await freshDatabase('postgresql');
  });
  afterEach(async () => {
    for (const queue of queues.splice(0)) await queue.close();
    await database.dispose();
  });

  it('what one process asks another takes, once, with in whose name and request it was asked', async () => {
    const [server, worker] = [await open(), await open()];
    await server.ask('plan', ask('one'));
    const taken = await worker.take();
    expect(taken).toMatchObject({ wanted: 'plan', ...ask('one') });
    expect(await server.take()).toBeNull();
    await taken!.done();
    expect(await worker.take()).toBeNull();
  });

  it('asks of one shop that nobody has begun are one; asked while it is under way there is one more', async () => {
    const queue = await open();
    for (const reason of ['first', 'second', 'third']) await queue.ask('plan', ask('one', reason));
    expect(await queue.waiting('plan')).toBe(1);
    const taken = await queue.take();
    await queue.ask('plan', ask('one', 'fourth'));
    await taken!.done();
    expect(await queue.take()).toMatchObject({ reason: 'fourth' });
    expect(await queue.take()).toBeNull();
  });

  it('shops are taken in the order they asked, plans before better ones', async () => {
    const queue = await open();
    await queue.ask('better', ask('zero'));
    for (const shop of ['one', 'two', 'three']) await queue.ask('plan', ask(shop));
    const taken: string[] = [];
    for (let next = await queue.take(); next !== null; next = await queue.take()) taken.push(next.shopId);
    expect(taken).toEqual(['one', 'two', 'three', 'zero']);
  });

  it('what failed is tried again', async () => {
    const queue = await open();
    await queue.ask('plan', ask('one'));
    await (await queue.take())!.failed(new Error('its worker died'));
    expect(await queue.waiting('plan')).toBe(1);
    await makeDue(database.databaseUrl);
    expect(await queue.take()).toMatchObject({ shopId: 'one' });
  });

  it('one process at a time has a name; the database gives it back with the connection of one that is gone', async () => {
    const [a, b] = [await open(), await open()];
    const inner = await a.alone('one', async () => [
      await b.alone('one', async () => 'b'),
      await b.alone('two', async () => 'b'),
    ]);
    expect(inner).toEqual([null, 'b']);
    expect(await b.alone('one', async () => 'b')).toBe('b');
    // As by a power cut: its connections are gone, and it has said nothing.
    const afterCut = await a.alone('one', async () => {
      await cutAll(database.databaseUrl);
      return b.alone('one', async () => 'b');
    });
    expect(afterCut).toBe('b');
  });
});

async function run(databaseUrl: string, statement: string): Promise<void> {
  const client = new pg.Client({ connectionString: databaseUrl });
  await client.connect();
  await client.query(statement);
  await client.end();
}

/** Waiting for another try takes no time in a test. */
const makeDue = (databaseUrl: string) =>
  run(databaseUrl, `UPDATE planning.job SET start_after = now() - interval '1 s'`);

const cutAll = (databaseUrl: string) =>
  run(
    databaseUrl,
    'SELECT pg_terminate_backend(pid, 5000) FROM pg_stat_activity WHERE datname = current_database() AND pid <> pg_backend_pid()',
  );
