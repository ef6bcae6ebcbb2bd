import { mkdir } from 'node:fs/promises';
import { dirname } from 'node:path';
import type { Client, Config } from '@libsql/client';
import { PrismaLibSql } from '@prisma/adapter-libsql';
import { PrismaPg } from '@prisma/adapter-pg';
import type { SqlMigrationAwareDriverAdapterFactory } from '@prisma/driver-adapter-utils';
import pg from 'pg';
import { type Provider, providerOf } from '../provider.ts';
import { readMigrations, readSchema } from './migrations.ts';
import { openSchemaEngine } from './schema-engine.ts';
import { whileOthersWait } from './sqlite-lock.ts';

/** A server that is running on the file may be writing. */
const BUSY_TIMEOUT_MS = 5_000;

/** Nothing is filtered from the engine's sight. */
export const NO_FILTERS = { externalTables: [], externalEnums: [] };

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
  const { adapter, close } = migrationConnection(provider, databaseUrl);
  const engine = await openSchemaEngine(await readSchema(provider), adapter);
  try {
    const migrationsList = await readMigrations(provider, upTo);
    const { appliedMigrationNames } = await engine.applyMigrations({ migrationsList, filters: NO_FILTERS });
    return appliedMigrationNames;
  } finally {
    engine.free();
    await close();
  }
}

/** The engine leaves its connections open, and on PostgreSQL with them the lock that other migrations wait for. */
function migrationConnection(
  provider: Provider,
  databaseUrl: string,
): { adapter: SqlMigrationAwareDriverAdapterFactory; close(): Promise<void> } {
  if (provider === 'postgresql') {
    const pool = new pg.Pool({ connectionString: databaseUrl });
    return { adapter: new PrismaPg(pool), close: () => pool.end() };
  }
  const opened: Client[] = [];
  class TrackedLibSql extends PrismaLibSql {
    override createClient(config: Config): Client {
      const client = super.createClient(config);
      opened.push(client);
      return client;
    }
  }
  return {
    adapter: new TrackedLibSql({ url: databaseUrl, timeout: BUSY_TIMEOUT_MS }),
    async close() {
      for (const client of opened) client.close();
    },
  };
}

/** The file of a `file:` URL. */
export function sqlitePath(databaseUrl: string): string {
  const path = databaseUrl.slice('file:'.length).split('?')[0]!;
  return decodeURIComponent(path.replace(/^\/\/(localhost)?(?=\/)/, ''));
}
