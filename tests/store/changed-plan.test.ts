import fc from 'fast-check';
import { expect, it } from 'vitest';
import { connectPostgresql } from '../../src/store/connection/postgresql.ts';
import { connectSqlite } from '../../src/store/connection/sqlite.ts';
import type { Occupancy, Store } from '../../src/store/store.ts';
import type { ShopId } from '../../src/trade/model/ids.ts';
import type { Plan } from '../../src/trade/model/plan.ts';
import { inOrder } from '../../src/trade/model/plan-way.ts';
import { randomPlan } from '../trade/model/random-plan.ts';
import { type Given, onEachDatabase } from './fresh-database.ts';
import { aPlan, at, jobId, occupancyOf, placeId, stockedShop } from './samples.ts';

const TABLES = ['plannedJob', 'plannedOperation', 'plannedPerson', 'plannedStay', 'occupancy'] as const;

/** All that the tables say of a shop's current plan, without the shop's name. */
async function tablesOf({ provider, databaseUrl }: Given, shopId: ShopId): Promise<Record<string, string[]>> {
  const connection = provider === 'sqlite' ? connectSqlite(databaseUrl) : connectPostgresql(databaseUrl);
  const all: Record<string, string[]> = {};
  for (const table of TABLES) {
    const rows = await (connection.client[table] as { findMany(query: object): Promise<object[]> }).findMany({
      where: { shopId },
    });
    all[table] = rows
      .map((row) =>
        JSON.stringify({ ...row, shopId: '' }, (_, cell) => (typeof cell === 'bigint' ? Number(cell) : cell)),
      )
      .sort();
  }
  await connection.close();
  return all;
}

const occupied = (plan: Pick<Plan, 'stays'>): Occupancy[] => plan.stays.map((stay) => ({ ...stay }));

const publish = (store: Store, shopId: ShopId, version: number, plan: Omit<Plan, 'version'>) =>
  store.plans.publish({
    shopId,
    expectedVersion: version - 1,
    plan: { ...plan, version },
    occupancy: occupied(plan),
    now: at(0),
  });

onEachDatabase('a plan published over another', (given) => {
  it('leaves the same tables as one published over none, and every version can be read again', async () => {
    const runs = fc.sample(fc.array(randomPlan, { minLength: 2, maxLength: 4 }), { seed: 11, numRuns: 12 });
    const { store } = given();
    const elsewhere = await given().another();
    for (const plans of runs) {
      const shopId = await stockedShop(store);
      for (const [index, plan] of plans.entries()) await publish(store, shopId, index + 1, plan);
      const fresh = await stockedShop(store);
      await publish(store, fresh, 1, plans.at(-1)!);
      expect(await tablesOf(given(), shopId)).toEqual(await tablesOf(given(), fresh));
      for (const [index, plan] of plans.entries()) {
        const kept = { ...plan, ...inOrder(plan), version: index + 1 };
        expect(await store.plans.get(shopId, index + 1)).toEqual(kept);
        expect(await elsewhere.plans.get(shopId, index + 1)).toEqual(kept);
      }
      expect(await elsewhere.plans.current(shopId)).toEqual(await store.plans.current(shopId));
    }
  }, 120_000);

  it('alternately by two processes is read by both as it stands', async () => {
    const { store } = given();
    const elsewhere = await given().another();
    const shopId = await stockedShop(store);
    const plans = fc.sample(randomPlan, { seed: 5, numRuns: 8 });
    for (const [index, plan] of plans.entries()) {
      await publish(index % 2 === 0 ? store : elsewhere, shopId, index + 1, plan);
      const kept = { ...plan, ...inOrder(plan), version: index + 1 };
      expect(await store.plans.current(shopId)).toEqual(kept);
      expect(await elsewhere.plans.current(shopId)).toEqual(kept);
    }
  });

  it('touches no row that stays as it is', async () => {
    const { store, provider, databaseUrl } = given();
    const shopId = await stockedShop(store);
    const visits = [
      { jobId: 'j1', placeId: 'bay1', from: 8, to: 12, technicianId: 'ann' },
      { jobId: 'j2', placeId: 'bay2', from: 10, to: 14 },
    ];
    await publish(store, shopId, 1, aPlan(1, visits));
    const connection = provider === 'sqlite' ? connectSqlite(databaseUrl) : connectPostgresql(databaseUrl);
    // A mark in a row that only writing the row anew would remove.
    await connection.client.$transaction((transaction) =>
      transaction.plannedJob.updateMany({ where: { shopId, jobId: 'j1' }, data: { document: 'marked' } }),
    );
    const later = [visits[0]!, { ...visits[1]!, to: 15 }];
    await publish(store, shopId, 2, aPlan(2, later));
    const rows = await connection.client.plannedJob.findMany({ where: { shopId }, orderBy: { jobId: 'asc' } });
    await connection.close();
    expect(rows.map((row) => row.document)).toEqual(['marked', JSON.stringify(aPlan(2, later).jobs[1])]);
  });

  it('that is refused or fails leaves nothing behind, in the tables and in what is remembered', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    const visits = [{ jobId: 'j1', placeId: 'bay1', from: 8, to: 12, technicianId: 'ann' }];
    await publish(store, shopId, 1, aPlan(1, visits));
    const kept = { placeId: placeId('bay2'), from: at(8), to: at(10), owner: 'quote', expiresAt: at(9) };
    await store.holds.take(shopId, [kept], at(0));
    const before = await tablesOf(given(), shopId);

    const onHold = [{ jobId: 'j1', placeId: 'bay2', from: 8, to: 12 }];
    await expect(publish(store, shopId, 2, aPlan(2, onHold))).rejects.toMatchObject({ code: 'doubleBooking' });
    await expect(publish(store, shopId, 3, aPlan(3, []))).rejects.toMatchObject({ code: 'stalePlan' });
    const unknown = [{ jobId: 'j9', placeId: 'bay1', from: 8, to: 12 }];
    await expect(publish(store, shopId, 2, aPlan(2, unknown))).rejects.toMatchObject({ code: 'unknownReference' });
    const moved = [{ jobId: 'j2', placeId: 'bay1', from: 9, to: 13 }];
    const late = store.transaction(shopId, async (records) => {
      await records.plans.publish({
        ...{ shopId, expectedVersion: 1, plan: aPlan(2, moved), occupancy: occupancyOf(moved), now: at(0) },
      });
      expect((await records.plans.current(shopId))?.operations[0]?.jobId).toBe('j2');
      throw new Error('the news could not be told');
    });
    await expect(late).rejects.toThrow('the news could not be told');

    expect(await tablesOf(given(), shopId)).toEqual(before);
    expect(await store.plans.current(shopId)).toEqual(aPlan(1, visits));
    expect(await store.plans.job(shopId, jobId('j2'))).toBeNull();
    await publish(store, shopId, 2, aPlan(2, moved));
    expect(await store.plans.current(shopId)).toEqual(aPlan(2, moved));
  });

  it('that loses the race to another process changes nothing of the winner', async () => {
    const { store } = given();
    const elsewhere = await given().another();
    for (const [one, other] of fc.sample(fc.tuple(randomPlan, randomPlan), { seed: 3, numRuns: 4 })) {
      const shopId = await stockedShop(store);
      const results = await Promise.allSettled([publish(store, shopId, 1, one), publish(elsewhere, shopId, 1, other)]);
      const winner = results.findIndex((each) => each.status === 'fulfilled');
      expect(results.filter((each) => each.status === 'rejected')).toMatchObject([{ reason: { code: 'stalePlan' } }]);
      const won = [one, other][winner]!;
      const fresh = await stockedShop(store);
      await publish(store, fresh, 1, won);
      expect(await tablesOf(given(), shopId)).toEqual(await tablesOf(given(), fresh));
      for (const each of [store, elsewhere]) {
        expect(await each.plans.current(shopId)).toEqual({ ...won, ...inOrder(won), version: 1 });
      }
    }
  });

  it('over one that was kept whole, as before changes were kept, leaves that one readable', async () => {
    const { store, provider, databaseUrl } = given();
    const shopId = await stockedShop(store);
    const [old, next] = fc.sample(randomPlan, { seed: 8, numRuns: 2 });
    await publish(store, shopId, 1, old!);
    const whole = { ...old!, ...inOrder(old!), version: 1 };
    const connection = provider === 'sqlite' ? connectSqlite(databaseUrl) : connectPostgresql(databaseUrl);
    await connection.client.$transaction((transaction) =>
      transaction.planVersion.updateMany({ where: { shopId }, data: { document: JSON.stringify(whole) } }),
    );
    await connection.close();
    const started = await given().another();
    expect(await started.plans.current(shopId)).toEqual(whole);
    await publish(started, shopId, 2, next!);
    expect(await started.plans.get(shopId, 1)).toEqual(whole);
  });
});
