import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { onTestFinished } from 'vitest';
import { putShopData } from '../../src/shop/demo/put-shop-data.ts';
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
  if (!options.empty) await store.transaction(shop.id, (records) => putShopData(records, demo));
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
