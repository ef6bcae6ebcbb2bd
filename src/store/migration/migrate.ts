import { mkdir } from 'node:fs/promises';
import { dirname } from 'node:path';
import { Worker } from 'node:worker_threads';
import { type Provider, providerOf } from '../provider.ts';
import { readMigrations } from './migrations.ts';
import { whileOthersWait } from './sqlite-lock.ts';
import { sqlitePath } from './sqlite-path.ts';
import { isUpToDate } from './up-to-date.ts';

/**
 * Brings a database to the newest migration, making the file and its folder if need be. Returns the names applied.
 * `upTo` stops after that many migrations: for testing upgrades.
 * @throws when a migration fails or the database has one that the code does not know
 */
export async function migrate(options: { databaseUrl: string; upTo?: number }): Promise<string[]> {
  const provider = providerOf(options.databaseUrl);
  if (provider === 'postgresql') return apply(provider, options.databaseUrl, options.upTo);
  const path = sqlitePath(options.databaseUrl);
  await mkdir(dirname(path), { recursive: true });
  return whileOthersWait(path, () => apply(provider, options.databaseUrl, options.upTo));
}

/**
 * As `migrate`, with the engine on a thread that ends, so that a server that goes on keeps none of its memory. Of compiled code
 * only: `migration-worker.js` lies beside this file.
 */
export async function migrateApart(options: { databaseUrl: string }): Promise<string[]> {
  const provider = providerOf(options.databaseUrl);
  if (await isUpToDate(provider, options.databaseUrl, await readMigrations(provider))) return [];
  const worker = new Worker(new URL('./migration-worker.js', import.meta.url), { workerData: options });
  return new Promise((resolve, reject) => {
    worker.once('message', resolve);
    worker.once('error', reject);
    worker.once('exit', (code) => reject(new Error(`the migration ended with ${code}`)));
  });
}

/** The engine takes some sixty megabytes: it is loaded only when there is something for it to do. */
async function apply(provider: Provider, databaseUrl: string, upTo?: number): Promise<string[]> {
  const migrations = await readMigrations(provider, upTo);
  if (await isUpToDate(provider, databaseUrl, migrations)) return [];
  const { applyMigrations } = await import('./apply-migrations.ts');
  return applyMigrations(provider, databaseUrl, migrations);
}
