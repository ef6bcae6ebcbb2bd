import { mkdir } from 'node:fs/promises';
import { dirname } from 'node:path';
import { PrismaLibSql } from '@prisma/adapter-libsql';
import { PrismaPg } from '@prisma/adapter-pg';
import type { SqlMigrationAwareDriverAdapterFactory } from '@prisma/driver-adapter-utils';
import { type Provider, providerOf } from '../provider.ts';
import { readMigrations, readSchema } from './migrations.ts';
import { openSchemaEngine } from './schema-engine.ts';

/** Nothing is filtered from the engine's sight. */
export const NO_FILTERS = { externalTables: [], externalEnums: [] };

export function migrationAdapter(provider: Provider, databaseUrl: string): SqlMigrationAwareDriverAdapterFactory {
  return provider === 'sqlite'
    ? new PrismaLibSql({ url: databaseUrl })
    : new PrismaPg({ connectionString: databaseUrl });
}

/**
 * Brings a database to the newest migration, making the file and its folder if need be. Returns the names applied.
 * `upTo` stops after that many migrations: for testing upgrades.
 * @throws when a migration fails or the database has one that the code does not know
 */
export async function migrate(options: { databaseUrl: string; upTo?: number }): Promise<string[]> {
  const provider = providerOf(options.databaseUrl);
  if (provider === 'sqlite') await mkdir(dirname(sqlitePath(options.databaseUrl)), { recursive: true });
  const engine = await openSchemaEngine(await readSchema(provider), migrationAdapter(provider, options.databaseUrl));
  try {
    const migrationsList = await readMigrations(provider, options.upTo);
    const { appliedMigrationNames } = await engine.applyMigrations({ migrationsList, filters: NO_FILTERS });
    return appliedMigrationNames;
  } finally {
    engine.free();
  }
}

/** The file of a `file:` URL. */
export function sqlitePath(databaseUrl: string): string {
  const path = databaseUrl.slice('file:'.length).split('?')[0]!;
  return decodeURIComponent(path.replace(/^\/\/(localhost)?(?=\/)/, ''));
}
