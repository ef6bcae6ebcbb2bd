import { mkdir } from 'node:fs/promises';
import { dirname } from 'node:path';
import { type Provider, providerOf } from '../provider.ts';
import { applyMigrations } from './apply-migrations.ts';
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

async function apply(provider: Provider, databaseUrl: string, upTo?: number): Promise<string[]> {
  const migrations = await readMigrations(provider, upTo);
  if (await isUpToDate(provider, databaseUrl, migrations)) return [];
  return applyMigrations(provider, databaseUrl, migrations);
}
