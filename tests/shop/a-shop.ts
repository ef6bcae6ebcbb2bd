import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { onTestFinished } from 'vitest';
import type { ShopDeps } from '../../src/shop/deps.ts';
import { createInProcessPlanner } from '../../src/shop/planning/in-process-planner.ts';
import { migrate } from '../../src/store/migration/migrate.ts';
import { openStore } from '../../src/store/open-store.ts';
import { Instant } from '../../src/trade/model/time.ts';
import { demo } from '../seed/demo-shop.ts';

/** An instant from an ISO text. */
export const at = (text: string): Instant => Instant.parse(Date.parse(text));

/** Monday 2 March 2026, 08:00 in Berlin (UTC+1), when the demo shop opens. */
export const MONDAY_8 = at('2026-03-02T08:00+01:00');

export interface TestShop {
  readonly deps: ShopDeps;
  readonly shopId: typeof demo.shop.id;
  /** Reasons for which a plan was asked for. */
  readonly asked: string[];
  setNow(instant: Instant): void;
}

/** The invented demo shop in a new SQLite database, without jobs, with a clock of the test's own. Gone after the test. */
export async function aShop(options: { now?: Instant; empty?: boolean } = {}): Promise<TestShop> {
  const folder = await mkdtemp(join(tmpdir(), 'panelday-shop-'));
  const databaseUrl = `file:${join(folder, 'test.db')}`;
  await migrate({ databaseUrl });
  let now = options.now ?? MONDAY_8;
  const store = await openStore({ databaseUrl, clock: () => now });
  onTestFinished(async () => {
    await store.close();
    await rm(folder, { recursive: true, force: true });
  });
  const { shop } = demo;
  if (!options.empty) {
    await store.shops.put(shop, 'new');
    for (const zone of demo.airZones) await store.airZones.put(shop.id, zone, 'new');
    for (const place of demo.places) await store.places.put(shop.id, { ...place, blockedBy: [] }, 'new');
    for (const place of demo.places) await store.places.put(shop.id, place, 'any');
    for (const technician of demo.technicians) await store.technicians.put(shop.id, technician, 'new');
    for (const equipment of demo.equipment) await store.equipment.put(shop.id, equipment, 'new');
    for (const coating of demo.coatings) await store.coatings.put(shop.id, coating, 'new');
    for (const recipe of demo.recipes) await store.recipes.put(shop.id, recipe, 'new');
  }
  const asked: string[] = [];
  let ids = 0;
  const deps: ShopDeps = {
    store,
    planner: createInProcessPlanner(),
    clock: () => now,
    newId: () => `id-${++ids}`,
    seed: 7,
    budget: { promptWork: 20_000, thoroughWork: 60_000, timeLimitMs: 20_000 },
    log: { info() {}, warn() {}, error() {} },
    replanner: {
      ask: (_, reason) => {
        asked.push(reason);
      },
      settled: async () => {},
      close: async () => {},
    },
  };
  return {
    deps,
    shopId: shop.id,
    asked,
    setNow: (instant) => {
      now = instant;
    },
  };
}
