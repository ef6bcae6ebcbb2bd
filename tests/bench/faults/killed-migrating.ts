import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { pathToFileURL } from 'node:url';
import { openStore } from '../../../src/store/open-store.ts';
import type { Provider } from '../../../src/store/provider.ts';
import { ShopId } from '../../../src/trade/model/ids.ts';
import type { SeededRandom } from '../../engine/random/seeded-random.ts';
import { rowsOf } from '../integrity/rows.ts';
import type { Databases } from '../servers/databases.ts';
import { spawnServer, startServer } from '../servers/server.ts';

export interface KilledMigrating {
  readonly kills: number;
  /** Kills that met the server with some migrations applied and others not. */
  readonly between: number;
  readonly faults: readonly string[];
}

const LOOK_EVERY_MS = 1;
const LONGEST_MS = 30_000;

/**
 * Kills a server while it brings a database up to date, from the version before some random migration, about the moment of its first
 * touch of the database; then starts it again, which has to finish alone and keep what was there.
 */
export async function killMigrating(
  provider: Provider,
  databases: Databases,
  kills: number,
  random: SeededRandom,
): Promise<KilledMigrating> {
  const { migrate } = await compiled<typeof import('../../../src/store/migration/migrate.ts')>('migrate');
  const { readMigrations } = await compiled<typeof import('../../../src/store/migration/migrations.ts')>('migrations');
  const all = (await readMigrations(provider)).migrationDirectories.length;
  const faults: string[] = [];
  let between = 0;
  let touchedMs = 0;
  for (let kill = 0; kill < kills; kill += 1) {
    const databaseUrl = await databases.fresh();
    const before = random.whole(0, all - 1);
    await migrate({ databaseUrl, upTo: before });
    if (before > 0) await aShopOfOld(databaseUrl);
    const child = spawnServer({ databaseUrl });
    const ended = new Promise((resolve) => child.once('exit', resolve));
    // Every other one before the first is done, by how long it took the others.
    if (kill % 2 === 1) await pause((touchedMs * random.whole(70, 100)) / 100);
    else {
      touchedMs = await untilTouched(databaseUrl, before);
      await pause(random.whole(0, 25));
    }
    child.kill('SIGKILL');
    await ended;
    const count = await appliedTo(databaseUrl);
    if (count < all) between += 1;
    try {
      const server = await startServer({ databaseUrl });
      const code = await server.stop();
      if (code !== 0) faults.push(`kill ${kill + 1}: stopped with ${code}`);
      const store = await openStore({ databaseUrl });
      if (before > 0 && (await store.shops.get(ShopId.parse('old'))) === null)
        faults.push(`kill ${kill + 1}: the shop is gone`);
      await store.close();
      if ((await appliedTo(databaseUrl)) !== all) faults.push(`kill ${kill + 1}: migrations are missing`);
    } catch (error) {
      faults.push(`kill ${kill + 1} at ${before} of ${all}: ${error}`);
    }
  }
  return { kills, between, faults };
}

/** Of the server itself: the migrations lie where its code looks for them. */
function compiled<T>(name: string): Promise<T> {
  return import(pathToFileURL(join('dist', 'store', 'migration', `${name}.js`)).href) as Promise<T>;
}

/** Milliseconds to the first migration that the server has applied. */
async function untilTouched(databaseUrl: string, before: number): Promise<number> {
  const began = performance.now();
  while (performance.now() - began < LONGEST_MS) {
    if ((await appliedTo(databaseUrl)) > before) break;
    await pause(LOOK_EVERY_MS);
  }
  return performance.now() - began;
}

async function appliedTo(databaseUrl: string): Promise<number> {
  try {
    const [row] = await rowsOf(databaseUrl, 'SELECT count(*) AS "n" FROM "_prisma_migrations"');
    return Number(row!.n);
  } catch {
    return 0;
  }
}

async function aShopOfOld(databaseUrl: string): Promise<void> {
  const { seedShop } = await import('../books/seed-shop.ts');
  const { shop } = seedShop(1, ShopId.parse('old'));
  const document = JSON.stringify(shop).replaceAll("'", "''");
  await rowsOf(
    databaseUrl,
    `INSERT INTO "Shop" ("id", "version", "updatedAt", "document") VALUES ('old', 1, 0, '${document}')`,
  );
}
