import { createHash } from 'node:crypto';
import { existsSync } from 'node:fs';
import { createClient } from '@libsql/client';
import type { MigrationList } from '@prisma/schema-engine-wasm/schema_engine_bg';
import type { Provider } from '../provider.ts';
import { sqlitePath } from './sqlite-path.ts';

interface Applied {
  readonly migration_name: string;
  readonly checksum: string;
}

const WHOLE_AND_KEPT =
  'SELECT migration_name, checksum FROM _prisma_migrations WHERE finished_at IS NOT NULL AND rolled_back_at IS NULL';

/**
 * Whether these very migrations, no more and no fewer, stand in a database as applied, so that nothing need be locked. False whenever
 * there is any doubt: applying them then says what is wrong.
 */
export async function isUpToDate(provider: Provider, databaseUrl: string, wanted: MigrationList): Promise<boolean> {
  let applied: readonly Applied[];
  try {
    applied = provider === 'sqlite' ? await appliedInSqlite(databaseUrl) : await appliedInPostgresql(databaseUrl);
  } catch {
    return false;
  }
  const checksums = new Map(applied.map((each) => [each.migration_name, each.checksum]));
  return (
    applied.length === wanted.migrationDirectories.length &&
    wanted.migrationDirectories.every(({ path, migrationFile: { content } }) => {
      const script = content.tag === 'ok' ? content.value : '';
      return checksums.get(path) === createHash('sha256').update(script).digest('hex');
    })
  );
}

async function appliedInSqlite(databaseUrl: string): Promise<readonly Applied[]> {
  if (!existsSync(sqlitePath(databaseUrl))) return [];
  const client = createClient({ url: databaseUrl });
  try {
    return (await client.execute(WHOLE_AND_KEPT)).rows as unknown as Applied[];
  } finally {
    client.close();
  }
}

async function appliedInPostgresql(databaseUrl: string): Promise<readonly Applied[]> {
  const { default: pg } = await import('pg');
  const client = new pg.Client({ connectionString: databaseUrl });
  try {
    await client.connect();
    return (await client.query<Applied>(WHOLE_AND_KEPT)).rows;
  } finally {
    await client.end();
  }
}
