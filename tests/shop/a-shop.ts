import { copyFile, mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, onTestFinished, vi } from 'vitest';
import { createInProcessDesk } from '../../src/shop/booking/in-process-desk.ts';
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

// A whole shop is planned in many of these tests, beside other files on a small machine.
vi.setConfig({ testTimeout: 120_000 });

const folder = mkdtemp(join(tmpdir(), 'panelday-shop-'));
afterAll(async () => rm(await folder, { recursive: true, force: true }));

/** A migrated database, made once a file and copied for each test; `empty` without the demo shop in it. */
const templates = new Map<boolean, Promise<string>>();
function template(empty: boolean): Promise<string> {
  const known = templates.get(empty);
  if (known !== undefined) return known;
  const making = (async () => {
    const path = join(await folder, `template-${empty}.db`);
    await migrate({ databaseUrl: `file:${path}` });
    const store = await openStore({ databaseUrl: `file:${path}`, clock: () => MONDAY_8 });
    if (!empty) await store.transaction(demo.shop.id, (records) => putShopData(records, demo));
    await store.close();
    return path;
  })();
  templates.set(empty, making);
  return making;
}

let copies = 0;

/** The invented demo shop in a new SQLite database, without jobs, with a clock of the test's own. Gone after the test. */
export async function aShop(options: { now?: Instant; empty?: boolean } = {}): Promise<TestShop> {
  const path = join(await folder, `test-${++copies}.db`);
  const from = await template(options.empty ?? false);
  // The log first: whatever of it is written into the database meanwhile is then in both, which does no harm.
  await copyFile(`${from}-wal`, `${path}-wal`).catch(() => {});
  await copyFile(from, path);
  let now = options.now ?? MONDAY_8;
  const store = await openStore({ databaseUrl: `file:${path}`, clock: () => now });
  onTestFinished(() => store.close());
  const { shop } = demo;
  const asked: string[] = [];
  let ids = 0;
  const deps: ShopDeps = {
    store,
    planner: createInProcessPlanner(),
    desk: createInProcessDesk(7, () => 0),
    clock: () => now,
    newId: () => `id-${++ids}`,
    seed: 7,
    budget: { promptWork: 20_000, thoroughWork: 60_000, timeLimitMs: 600_000 },
    log: { info() {}, warn() {}, error() {} },
    replanner: {
      ask: (_, reason) => {
        asked.push(reason);
      },
      improve: () => {},
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
