import { createClient } from '@libsql/client';
import pg from 'pg';
import type { Provider } from '../../../src/store/provider.ts';

/**
 * Every row of every table as text, sorted, read without the code under test: flags as true and false, numbers as numbers, bytes in hexadecimal.
 * What migrating itself notes is left out.
 */
export async function everyRow(provider: Provider, databaseUrl: string): Promise<Record<string, string[]>> {
  const { names, read, close } = provider === 'sqlite' ? await ofSqlite(databaseUrl) : await ofPostgresql(databaseUrl);
  try {
    const all: Record<string, string[]> = {};
    for (const name of names) if (name !== '_prisma_migrations') all[name] = (await read(name)).map(asText).sort();
    return all;
  } finally {
    await close();
  }
}

const FLAGS = new Set(['administrator', 'disabled']);

function asText(row: Record<string, unknown>): string {
  const cells = Object.entries(row).map(([column, value]) => [column, plain(column, value)] as const);
  return JSON.stringify(cells.sort(([a], [b]) => (a < b ? -1 : 1)));
}

function plain(column: string, value: unknown): unknown {
  if (FLAGS.has(column)) return Boolean(value);
  if (value instanceof ArrayBuffer || ArrayBuffer.isView(value))
    return Buffer.from(value as Uint8Array).toString('hex');
  return value;
}

async function ofSqlite(url: string) {
  const client = createClient({ url });
  const { rows } = await client.execute(
    `SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite_%' ORDER BY name`,
  );
  return {
    names: rows.map((row) => String(row.name)),
    read: async (name: string) =>
      (await client.execute(`SELECT * FROM "${name}"`)).rows.map((row) => ({ ...row })) as Record<string, unknown>[],
    close: async () => client.close(),
  };
}

async function ofPostgresql(connectionString: string) {
  const client = new pg.Client({ connectionString });
  await client.connect();
  client.setTypeParser(pg.types.builtins.INT8, Number);
  const { rows } = await client.query<{ name: string }>(
    `SELECT tablename AS name FROM pg_tables WHERE schemaname = 'public' ORDER BY tablename COLLATE "C"`,
  );
  return {
    names: rows.map(({ name }) => name),
    read: async (name: string) => (await client.query<Record<string, unknown>>(`SELECT * FROM "${name}"`)).rows,
    close: () => client.end(),
  };
}
