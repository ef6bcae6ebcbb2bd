import type { Client, Config } from '@libsql/client';
import { PrismaLibSql } from '@prisma/adapter-libsql';
import { PrismaPg } from '@prisma/adapter-pg';
import type { SqlMigrationAwareDriverAdapterFactory } from '@prisma/driver-adapter-utils';
import type { MigrationList } from '@prisma/schema-engine-wasm/schema_engine_bg';
import pg from 'pg';
import type { Provider } from '../provider.ts';
import { readSchema } from './migrations.ts';
import { openSchemaEngine } from './schema-engine.ts';

/** A server that is running on the file may be writing. */
const BUSY_TIMEOUT_MS = 5_000;

/** Nothing is filtered from the engine's sight. */
export const NO_FILTERS = { externalTables: [], externalEnums: [] };

/** Applies what is not applied yet, by Prisma's engine. Returns the names. */
export async function applyMigrations(
  provider: Provider,
  databaseUrl: string,
  migrationsList: MigrationList,
): Promise<string[]> {
  const { adapter, close } = migrationConnection(provider, databaseUrl);
  const engine = await openSchemaEngine(await readSchema(provider), adapter);
  try {
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
