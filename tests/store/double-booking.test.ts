import { PrismaLibSql } from '@prisma/adapter-libsql';
import pg from 'pg';
import { afterEach, describe, expect, it } from 'vitest';
import { MissingConstraints } from '../../src/store/connection/connection.ts';
import { connectPostgresql } from '../../src/store/connection/postgresql.ts';
import { connectSqlite } from '../../src/store/connection/sqlite.ts';
import { migrate } from '../../src/store/migration/migrate.ts';
import { openStore } from '../../src/store/open-store.ts';
import { DoubleBooking, StalePlan, UnknownReference } from '../../src/store/store.ts';
import {
  type FreshDatabase,
  freshDatabase,
  type Given,
  isAvailable,
  onEachDatabase,
  PROVIDERS,
} from './fresh-database.ts';
import { aPlan, at, occupancyOf, type PlannedVisit, placeId, stockedShop } from './samples.ts';

const inBay1: PlannedVisit = { jobId: 'j1', placeId: 'bay1', from: 8, to: 12 };

const hold = (owner: string, from: number, to: number, expires = 48) => ({
  placeId: placeId('bay1'),
  from: at(from),
  to: at(to),
  owner,
  expiresAt: at(expires),
});

onEachDatabase('a place at one time', (given) => {
  it('is not planned for two cars', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    const visits = [inBay1, { jobId: 'j2', placeId: 'bay1', from: 11, to: 15 }];
    const publishing = store.plans.publish({
      shopId,
      expectedVersion: 0,
      plan: aPlan(1, visits),
      occupancy: occupancyOf(visits),
      now: at(0),
    });
    await expect(publishing).rejects.toMatchObject({ code: 'doubleBooking', placeId: 'bay1' });
    expect(await store.plans.currentVersion(shopId)).toBe(0);
  });

  it('may be taken by the next car the moment the first has left', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    const visits = [inBay1, { jobId: 'j2', placeId: 'bay1', from: 12, to: 15 }];
    await store.plans.publish({
      shopId,
      expectedVersion: 0,
      plan: aPlan(1, visits),
      occupancy: occupancyOf(visits),
      now: at(0),
    });
    expect(await store.plans.currentVersion(shopId)).toBe(1);
  });

  it('goes to exactly one of two desks that hold it at once', async () => {
    const { store, another } = given();
    const other = await another();
    for (let round = 0; round < 5; round += 1) {
      const shopId = await stockedShop(store);
      const outcomes = await Promise.allSettled([
        store.holds.take(shopId, [hold('first', 8, 12)], at(0)),
        other.holds.take(shopId, [hold('second', 9, 10)], at(0)),
      ]);
      expect(outcomes.map((outcome) => outcome.status).sort()).toEqual(['fulfilled', 'rejected']);
      const lost = outcomes.find((outcome) => outcome.status === 'rejected');
      expect((lost as PromiseRejectedResult).reason).toBeInstanceOf(DoubleBooking);
      expect(await store.holds.list(shopId, at(0))).toHaveLength(1);
    }
  });

  it('goes to exactly one of two plans made from the same one', async () => {
    const { store, another } = given();
    const other = await another();
    for (let round = 0; round < 5; round += 1) {
      const shopId = await stockedShop(store);
      const publication = (jobId: string) => {
        const visits = [{ ...inBay1, jobId }];
        return { shopId, expectedVersion: 0, plan: aPlan(1, visits), occupancy: occupancyOf(visits), now: at(0) };
      };
      const outcomes = await Promise.allSettled([
        store.plans.publish(publication('j1')),
        other.plans.publish(publication('j2')),
      ]);
      expect(outcomes.map((outcome) => outcome.status).sort()).toEqual(['fulfilled', 'rejected']);
      const lost = outcomes.find((outcome) => outcome.status === 'rejected');
      expect((lost as PromiseRejectedResult).reason).toBeInstanceOf(StalePlan);
      expect((await store.plans.current(shopId))?.operations).toHaveLength(1);
    }
  });

  it('goes to one of two straight inserts, with no check of the application between', async () => {
    const { store } = given();
    for (let round = 0; round < 5; round += 1) {
      const shopId = await stockedShop(store);
      const outcomes = await Promise.allSettled([
        insertStraight(given(), { shopId, startsAt: at(8), endsAt: at(12), owner: 'first' }),
        insertStraight(given(), { shopId, startsAt: at(9), endsAt: at(10), owner: 'second' }),
      ]);
      expect(outcomes.map((outcome) => outcome.status).sort()).toEqual(['fulfilled', 'rejected']);
      expect(await store.holds.list(shopId, at(0))).toHaveLength(1);
    }
  });

  it('is not taken twice by moving a stretch over another', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    await store.holds.take(shopId, [hold('first', 8, 10), hold('second', 10, 12)], at(0));
    const moved = moveStraight(given(), { shopId, owner: 'second', startsAt: at(9) });
    await expect(moved).rejects.toThrow(/double booking|Occupancy_no_overlap/);
    const later = moveStraight(given(), { shopId, owner: 'second', startsAt: at(11) });
    await expect(later).resolves.toBeUndefined();
  });

  it('is not taken for no time at all', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    await expect(store.holds.take(shopId, [hold('none', 8, 8)], at(0))).rejects.toMatchObject({
      problems: [{ field: 'holds.0.to', message: 'must be after from' }],
    });
    const straight = insertStraight(given(), { shopId, startsAt: at(8), endsAt: at(8), owner: 'none' });
    await expect(straight).rejects.toThrow(/is empty|Occupancy_not_empty/);
  });

  it('is free again when a hold has run out, to the millisecond', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    await store.holds.take(shopId, [hold('first', 8, 12, 2)], at(0));
    const lastMoment = (at(2) - 1) as ReturnType<typeof at>;
    await expect(store.holds.take(shopId, [hold('second', 8, 12)], lastMoment)).rejects.toBeInstanceOf(DoubleBooking);
    await store.holds.take(shopId, [hold('second', 8, 12)], at(2));
    expect((await store.holds.list(shopId, at(2))).map((each) => each.owner)).toEqual(['second']);
  });

  it('is free again when its owner releases it, and no other owner is touched', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    await store.holds.take(shopId, [hold('first', 8, 10), hold('first', 14, 16), hold('second', 10, 12)], at(0));
    await store.holds.release(shopId, 'first');
    expect((await store.holds.list(shopId, at(0))).map((each) => each.owner)).toEqual(['second']);
  });

  it('is kept from the plan by a live hold, unless the plan replaces that hold', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    await store.holds.take(shopId, [hold('j1', 8, 12)], at(0));
    const publication = {
      shopId,
      expectedVersion: 0,
      plan: aPlan(1, [inBay1]),
      occupancy: occupancyOf([inBay1]),
      now: at(0),
    };
    await expect(store.plans.publish(publication)).rejects.toBeInstanceOf(DoubleBooking);
    await store.plans.publish({ ...publication, releaseHolds: ['j1'] });
    expect(await store.holds.list(shopId, at(0))).toEqual([]);
    await expect(store.holds.take(shopId, [hold('late', 11, 13)], at(0))).rejects.toBeInstanceOf(DoubleBooking);
  });

  it('is not held in a place that is not there', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    const nowhere = store.holds.take(shopId, [{ ...hold('x', 8, 9), placeId: placeId('bay9') }], at(0));
    await expect(nowhere).rejects.toBeInstanceOf(UnknownReference);
  });

  it('is recognised as taken from what the database says, whatever else goes wrong', async () => {
    const { provider, databaseUrl, store } = given();
    const shopId = await stockedShop(store);
    await store.holds.take(shopId, [hold('first', 8, 12)], at(0));
    const connection = provider === 'sqlite' ? connectSqlite(databaseUrl) : connectPostgresql(databaseUrl);
    const row = { shopId, owner: 'second', startsAt: BigInt(at(9)), endsAt: BigInt(at(10)), expiresAt: BigInt(at(48)) };
    const refusalOf = (place: string) =>
      connection.client
        .$transaction((transaction) => transaction.occupancy.create({ data: { ...row, placeId: place } }))
        .then(
          () => null,
          (error: unknown) => error,
        );
    const taken = await refusalOf('bay1');
    const unknownPlace = await refusalOf('bay9');
    expect(connection.doubleBooked(taken)).toBe(true);
    expect(unknownPlace).not.toBeNull();
    expect(connection.doubleBooked(unknownPlace)).toBe(false);
    await connection.close();
  });
});

describe.each(PROVIDERS.filter(isAvailable))('a database that does not forbid double bookings (%s)', (provider) => {
  let database: FreshDatabase;
  afterEach(() => database.dispose());

  it('is refused at the start, naming what is missing', async () => {
    database = await freshDatabase(provider);
    const { databaseUrl } = database;
    await migrate({ databaseUrl });
    await (await openStore({ databaseUrl })).close();
    await execute(
      databaseUrl,
      provider === 'sqlite'
        ? 'DROP TRIGGER "Occupancy_no_overlap_update"'
        : 'ALTER TABLE "Occupancy" DROP CONSTRAINT "Occupancy_no_overlap"',
    );
    const opening = openStore({ databaseUrl });
    await expect(opening).rejects.toBeInstanceOf(MissingConstraints);
    await expect(opening).rejects.toThrow('Occupancy_no_overlap');
  });

  it('is refused at the start when it was never migrated', async () => {
    database = await freshDatabase(provider);
    await expect(openStore({ databaseUrl: database.databaseUrl })).rejects.toBeInstanceOf(MissingConstraints);
  });
});

interface Straight {
  readonly shopId: string;
  readonly owner: string;
  readonly startsAt: number;
}

function insertStraight(
  given: Given,
  { shopId, owner, startsAt, endsAt }: Straight & { endsAt: number },
): Promise<void> {
  return execute(
    given.databaseUrl,
    `INSERT INTO "Occupancy" ("shopId", "placeId", "startsAt", "endsAt", "owner", "expiresAt")
     VALUES ('${shopId}', 'bay1', ${startsAt}, ${endsAt}, '${owner}', ${at(48)})`,
  );
}

function moveStraight(given: Given, { shopId, owner, startsAt }: Straight): Promise<void> {
  return execute(
    given.databaseUrl,
    `UPDATE "Occupancy" SET "startsAt" = ${startsAt} WHERE "shopId" = '${shopId}' AND "owner" = '${owner}'`,
  );
}

/** Runs SQL on a connection of its own, with nothing of the store between. */
async function execute(databaseUrl: string, sql: string): Promise<void> {
  if (databaseUrl.startsWith('file:')) {
    const client = new PrismaLibSql({ url: databaseUrl }).createClient({ url: databaseUrl });
    try {
      await client.execute('PRAGMA busy_timeout = 5000');
      await client.execute(sql);
    } finally {
      client.close();
    }
    return;
  }
  const client = new pg.Client({ connectionString: databaseUrl });
  await client.connect();
  try {
    await client.query(sql);
  } finally {
    await client.end();
  }
}
