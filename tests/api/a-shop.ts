import { copyFile, mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterAll } from 'vitest';
import type { Api } from '../../src/api/api.ts';
import { buildApp } from '../../src/api/app.ts';
import type { ApiDeps } from '../../src/api/deps.ts';
import { createAuthorship } from '../../src/shop/access/authorship.ts';
import { nobody } from '../../src/shop/access/principal.ts';
import { createWhoAsks, type WhoAsks } from '../../src/shop/access/who-asks.ts';
import type { ShopDeps } from '../../src/shop/deps.ts';
import type { Planner } from '../../src/shop/planning/planner.ts';
import { Busy } from '../../src/shop/problems/problems.ts';
import { migrate } from '../../src/store/migration/migrate.ts';
import { openStore } from '../../src/store/open-store.ts';
import type { Store } from '../../src/store/store.ts';
import type { Instant } from '../../src/trade/model/time.ts';
import { bay, hose, lead, monday9, shop, wash, washer, yard, zone } from './shop-documents.ts';

export * from './shop-documents.ts';

export interface Opened {
  readonly app: Api;
  readonly store: Store;
  readonly deps: ShopDeps;
  readonly asked: string[];
  /** Sets the clock the use cases read. */
  setNow(instant: Instant): void;
  close(): Promise<void>;
}

/** For tests in which nothing is planned: whoever asks is told that planning is busy. */
const noPlanner: Planner = {
  plan: async () => {
    throw new Busy('There is no planner in this test.');
  },
  close: async () => {},
};

/** For tests that are not about who may do what: whoever asks administers the server. */
export const everybodyAdministers: WhoAsks = {
  principalOf: async () => ({ ...nobody, who: 'account:test', name: 'Test', administrator: true }),
  forget: () => {},
};

let keys = 0;
/** A fresh Idempotency-Key; counted, so that a run repeats. */
export function key(): Record<string, string> {
  keys += 1;
  return { 'idempotency-key': `test-key-${String(keys).padStart(6, '0')}` };
}

let template: Promise<string> | undefined;

/** A migrated, empty database, made once for a test file; copying it is faster than migrating each time. */
function migrated(): Promise<string> {
  template ??= (async () => {
    const folder = await mkdtemp(join(tmpdir(), 'panelday-empty-'));
    const file = join(folder, 'empty.db');
    await migrate({ databaseUrl: `file:${file}` });
    return file;
  })();
  return template;
}
afterAll(async () => {
  if (template) await rm(dirname(await template), { recursive: true, force: true });
});

/**
 * An API over a new SQLite database in a folder of its own, or over `databaseUrl`, which is migrated. `empty` leaves the database
 * without a shop; with `signIn` whoever asks has to be signed in.
 */
export async function openShop(
  options: { empty?: boolean; planner?: Planner; signIn?: boolean; databaseUrl?: string; api?: Partial<ApiDeps> } = {},
): Promise<Opened> {
  const folder = await mkdtemp(join(tmpdir(), 'panelday-api-'));
  const databaseUrl = options.databaseUrl ?? `file:${join(folder, 'test.db')}`;
  if (options.databaseUrl === undefined) await copyFile(await migrated(), join(folder, 'test.db'));
  let now = monday9;
  const authorship = createAuthorship();
  const store = await openStore({ databaseUrl, clock: () => now, author: authorship.current });
  let ids = 0;
  const asked: string[] = [];
  const deps: ShopDeps = {
    store,
    planner: options.planner ?? noPlanner,
    clock: () => now,
    newId: () => {
      ids += 1;
      return `id-${ids}`;
    },
    seed: 7,
    budget: { promptWork: 4_000, thoroughWork: 8_000, timeLimitMs: 20_000 },
    replanner: {
      ask: (_shopId, reason) => asked.push(reason),
      improve: () => {},
      settled: async () => {},
      close: async () => {},
    },
    log: { info: () => {}, warn: () => {}, error: () => {} },
  };
  if (!options.empty) {
    await store.shops.put(shop, 'new');
    await store.airZones.put(shop.id, zone, 'new');
    for (const place of [bay, yard]) await store.places.put(shop.id, place, 'new');
    for (const person of [lead, washer]) await store.technicians.put(shop.id, person, 'new');
    await store.equipment.put(shop.id, hose, 'new');
    await store.recipes.put(shop.id, wash, 'new');
  }
  const app = await buildApp({
    shop: deps,
    version: '0.0.0-test',
    whoAsks: options.signIn ? createWhoAsks(store) : everybodyAdministers,
    authorship,
    ...options.api,
  });
  return {
    app,
    store,
    deps,
    asked,
    setNow: (instant) => {
      now = instant;
    },
    async close() {
      await app.close();
      await deps.planner.close();
      await store.close();
      await rm(folder, { recursive: true, force: true });
    },
  };
}
