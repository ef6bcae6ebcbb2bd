import { readFileSync } from 'node:fs';
import { createClient } from '@libsql/client';
import pg from 'pg';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
// @ts-expect-error: a plain script
import { staleSchemas } from '../../prisma/make-schemas.mjs';
import { applyMigrations } from '../../src/store/migration/apply-migrations.ts';
import { migrationDifference } from '../../src/store/migration/difference.ts';
import { migrate } from '../../src/store/migration/migrate.ts';
import { readMigrations, readSchema } from '../../src/store/migration/migrations.ts';
import { isUpToDate } from '../../src/store/migration/up-to-date.ts';
import { openStore } from '../../src/store/open-store.ts';
import type { ShopId } from '../../src/trade/model/ids.ts';
import { type FreshDatabase, freshDatabase, isAvailable, PROVIDERS } from './fresh-database.ts';
import { aJob, aPlace, aRecipe, aShop, at, jobId, placeId } from './samples.ts';

it('both schemas say what the models say', () => {
  expect(staleSchemas()).toEqual([]);
  const models = readFileSync(new URL('../../prisma/models.prisma', import.meta.url), 'utf8');
  expect(models).toContain('model Occupancy');
});

describe.each(PROVIDERS.filter(isAvailable))('migrations (%s)', (provider) => {
  let database: FreshDatabase;
  beforeEach(async () => {
    database = await freshDatabase(provider);
  });
  afterEach(() => database.dispose());

  it('are applied once', async () => {
    const { databaseUrl } = database;
    const applied = await migrate({ databaseUrl });
    expect(applied.length).toBeGreaterThanOrEqual(2);
    expect(await migrate({ databaseUrl })).toEqual([]);
  });

  it('are applied once also when two processes start at once', async () => {
    const { databaseUrl } = database;
    const applied = await Promise.all([migrate({ databaseUrl }), migrate({ databaseUrl })]);
    expect(applied.map((names) => names.length > 0).sort()).toEqual([false, true]);
    await (await openStore({ databaseUrl })).close();
  });

  it('are seen to be applied without a lock, and not when one is missing, another than it was, or half done', async () => {
    const { databaseUrl } = database;
    const all = await readMigrations(provider);
    const upToDate = () => isUpToDate(provider, databaseUrl, all);
    expect(await upToDate()).toBe(false);
    await migrate({ databaseUrl, upTo: all.migrationDirectories.length - 1 });
    expect(await upToDate()).toBe(false);
    await migrate({ databaseUrl });
    expect(await upToDate()).toBe(true);
    const damage = async (change: string, undone: string) => {
      await executeAll(databaseUrl, [`UPDATE _prisma_migrations SET ${change}`]);
      const seen = await upToDate();
      await executeAll(databaseUrl, [`UPDATE _prisma_migrations SET ${undone}`]);
      return seen;
    };
    expect(await damage('checksum = upper(checksum)', 'checksum = lower(checksum)')).toBe(false);
    expect(await damage('finished_at = NULL', 'finished_at = started_at')).toBe(false);
    expect(await upToDate()).toBe(true);
    const [newest, ...older] = [...all.migrationDirectories].reverse();
    expect(newest).toBeDefined();
    expect(await isUpToDate(provider, databaseUrl, { ...all, migrationDirectories: older })).toBe(false);
  }, 60_000);

  it('are applied whole or not at all: one that breaks off leaves nothing, and the next start goes on from there', async () => {
    const { databaseUrl } = database;
    const all = await readMigrations(provider);
    const last = all.migrationDirectories.at(-1)!;
    const script = last.migrationFile.content.tag === 'ok' ? last.migrationFile.content.value : '';
    const broken = {
      path: last.path,
      migrationFile: {
        path: 'migration.sql',
        content: { tag: 'ok' as const, value: `${script}\n;SELECT nothing_like_it;` },
      },
    };
    const breaking = { ...all, migrationDirectories: [...all.migrationDirectories.slice(0, -1), broken] };
    await migrate({ databaseUrl, upTo: 1 });
    await expect(applyMigrations(provider, databaseUrl, breaking)).rejects.toThrow(/nothing_like_it/);
    const applied = await migrate({ databaseUrl });
    expect(applied).toEqual([last.path]);
    await (await openStore({ databaseUrl })).close();
  });

  it('refuse a database of a newer version, and one that another program left half migrated', async () => {
    const { databaseUrl } = database;
    const all = await readMigrations(provider);
    await migrate({ databaseUrl });
    const [newest] = all.migrationDirectories.slice(-1);
    const older = { ...all, migrationDirectories: all.migrationDirectories.slice(0, -1) };
    await expect(applyMigrations(provider, databaseUrl, older)).rejects.toThrow(newest!.path);
    await executeAll(databaseUrl, ['UPDATE _prisma_migrations SET finished_at = NULL']);
    await expect(migrate({ databaseUrl })).rejects.toThrow(/half done/);
  });

  it('make what the models say', async () => {
    expect(await migrationDifference(database.databaseUrl, await readSchema(provider))).toBeNull();
  });

  it('are told apart from models that say more', async () => {
    const more = `${await readSchema(provider)}\nmodel Extra {\n  shopId String @id\n}\n`;
    expect(await migrationDifference(database.databaseUrl, more)).toContain('CREATE TABLE "Extra"');
  });

  it('keep the data of a database made before the last of them', async () => {
    const { databaseUrl } = database;
    expect(await migrate({ databaseUrl, upTo: 1 })).toHaveLength(1);
    await fillFirstVersion(databaseUrl);
    expect((await migrate({ databaseUrl })).length).toBeGreaterThanOrEqual(1);

    const store = await openStore({ databaseUrl });
    try {
      const shopId = 'old' as ShopId;
      expect((await store.shops.get(shopId))?.value).toEqual(aShop('old'));
      expect((await store.jobs.get(shopId, jobId('j1')))?.value.customer.name).toBe('Ada Example');
      const [hold] = await store.holds.list(shopId, at(0));
      expect(hold).toEqual({ placeId: 'bay1', from: at(14), to: at(16), owner: 'quote', expiresAt: at(48) });
      // What the old plan occupied knows its job now, and still keeps others out.
      await expect(store.jobs.delete(shopId, jobId('j1'), 'any')).rejects.toMatchObject({ by: ['occupancy'] });
      const onTop = { placeId: placeId('bay1'), from: at(11), to: at(13), owner: 'x', expiresAt: at(48) };
      await expect(store.holds.take(shopId, [onTop], at(0))).rejects.toMatchObject({ code: 'doubleBooking' });
    } finally {
      await store.close();
    }
  });

  it('tell of jobs from before when their cars really came and left, by what the floor had recorded', async () => {
    const { databaseUrl } = database;
    const all = await readMigrations(provider);
    const before = all.migrationDirectories.findIndex(({ path }) => path.endsWith('_came_and_left'));
    await migrate({ databaseUrl, upTo: before });
    await fillVisits(databaseUrl);
    await migrate({ databaseUrl });

    const store = await openStore({ databaseUrl });
    try {
      const shopId = 'old' as ShopId;
      const times = async (id: string) => {
        const { cameAt, leftAt } = (await store.jobs.get(shopId, jobId(id)))!.value;
        return { cameAt, leftAt };
      };
      expect(await times('early')).toEqual({ cameAt: at(10), leftAt: at(20) });
      expect(await times('handed')).toEqual({ cameAt: at(9), leftAt: at(12) });
      expect(await times('here')).toEqual({ cameAt: at(11), leftAt: undefined });
      expect(await times('due')).toEqual({ cameAt: undefined, leftAt: undefined });
      const listed = async (from: number, to: number, now = 30) => {
        const visiting = { from: at(from), to: at(to), now: at(now) };
        return (await store.jobs.list(shopId, { visiting })).items.map(({ value }) => value.id);
      };
      expect(await listed(9, 24)).toEqual(['handed', 'early', 'here']);
      expect(await listed(24, 30)).toEqual(['here']);
      // Told for the third week, and gone in the first; one of them is still to come then.
      expect(await listed(500, 600)).toEqual(['due']);
      const promised = await store.jobs.list(shopId, { promised: { from: at(500), to: at(600) } });
      expect(promised.items.map(({ value }) => value.id)).toEqual(['early']);
    } finally {
      await store.close();
    }
  });
});

const document = (value: object) => `'${JSON.stringify(value)}'`;

/** Cars told for the third week, with what the floor recorded of them in the first. */
async function fillVisits(databaseUrl: string): Promise<void> {
  const [wash] = aRecipe('wash').steps;
  const recipe = { ...aRecipe('wash'), steps: [wash, { ...wash, key: 'handover', kind: 'handover' }] };
  const promise = { pickupAt: at(550), givenAt: at(0), confidencePercent: 90 };
  const told = { earliestDropOff: at(510), dropOffAt: at(510) };
  const jobs = [
    aJob('early', { ...told, promise, state: 'done' }),
    aJob('handed', { ...told, state: 'done' }),
    aJob('here', { dropOffAt: at(8), state: 'inShop' }),
    aJob('due', told),
  ];
  const work = (operation: string, kind: string) => ({ kind, operation, ...(kind === 'started' ? { by: [] } : {}) });
  const facts: [job: string, hour: number, fact: object][] = [
    ['early', 20, { kind: 'pickedUp' }],
    ['early', 21, { kind: 'pickedUp' }],
    ['early', 19, work('handover', 'finished')],
    ['early', 10, { kind: 'arrived', placeId: 'bay1' }],
    ['early', 11, { kind: 'moved', placeId: 'bay1' }],
    ['handed', 9, work('wash', 'started')],
    ['handed', 10, work('wash', 'finished')],
    ['handed', 12, work('handover.rest', 'finished')],
    ['here', 11, { kind: 'arrived', placeId: 'bay1' }],
    ['here', 12, work('wash', 'finished')],
  ];
  await executeAll(databaseUrl, [
    `INSERT INTO "Shop" ("id", "version", "updatedAt", "document") VALUES ('old', 1, ${at(0)}, ${document(aShop('old'))})`,
    `INSERT INTO "Recipe" ("shopId", "id", "version", "updatedAt", "document")
     VALUES ('old', 'wash', 1, ${at(0)}, ${document(recipe)})`,
    ...jobs.map((job) => {
      const arrivesAt = job.dropOffAt!;
      const leavesAt = job.promise?.pickupAt ?? arrivesAt;
      return `INSERT INTO "Job" ("shopId", "id", "version", "updatedAt", "document", "state", "recipeId", "arrivesAt", "leavesAt", "searchText")
       VALUES ('old', '${job.id}', 1, ${at(0)}, ${document(job)}, '${job.state}', 'wash', ${arrivesAt}, ${leavesAt}, '')`;
    }),
    ...facts.map(
      (
        [job, hour, fact],
        k,
      ) => `INSERT INTO "FloorEvent" ("shopId", "jobId", "sequence", "clientId", "occurredAt", "recordedAt", "fact")
       VALUES ('old', '${job}', ${k + 1}, 'tablet-fact-${k}', ${at(hour)}, ${at(hour)}, ${document(fact)})`,
    ),
  ]);
}

/** Rows as the first version of the tables had them. */
async function fillFirstVersion(databaseUrl: string): Promise<void> {
  await executeAll(databaseUrl, [
    `INSERT INTO "Shop" ("id", "version", "updatedAt", "document") VALUES ('old', 1, ${at(0)}, ${document(aShop('old'))})`,
    `INSERT INTO "Place" ("shopId", "id", "version", "updatedAt", "document")
     VALUES ('old', 'bay1', 1, ${at(0)}, ${document(aPlace('bay1'))})`,
    `INSERT INTO "Recipe" ("shopId", "id", "version", "updatedAt", "document")
     VALUES ('old', 'wash', 1, ${at(0)}, ${document(aRecipe('wash'))})`,
    `INSERT INTO "Job" ("shopId", "id", "version", "updatedAt", "document", "state", "recipeId", "arrivesAt", "leavesAt", "searchText")
     VALUES ('old', 'j1', 1, ${at(0)}, ${document(aJob('j1'))}, 'booked', 'wash', ${at(8)}, ${at(8)}, 'adaexample')`,
    `INSERT INTO "Occupancy" ("shopId", "placeId", "startsAt", "endsAt", "owner") VALUES ('old', 'bay1', ${at(8)}, ${at(12)}, 'j1')`,
    `INSERT INTO "Occupancy" ("shopId", "placeId", "startsAt", "endsAt", "owner", "expiresAt")
     VALUES ('old', 'bay1', ${at(14)}, ${at(16)}, 'quote', ${at(48)})`,
  ]);
}

async function executeAll(databaseUrl: string, statements: readonly string[]): Promise<void> {
  if (databaseUrl.startsWith('file:')) {
    const client = createClient({ url: databaseUrl });
    for (const statement of statements) await client.execute(statement);
    client.close();
    return;
  }
  const client = new pg.Client({ connectionString: databaseUrl });
  await client.connect();
  for (const statement of statements) await client.query(statement);
  await client.end();
}
