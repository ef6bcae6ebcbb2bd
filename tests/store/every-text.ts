import { createClient } from '@libsql/client';
import pg from 'pg';
import type { Provider } from '../../src/store/provider.ts';

/** Every cell of text of every table, as a connection of its own reads it: `table.column` and what stands there. */
export async function everyText(provider: Provider, databaseUrl: string): Promise<{ at: string; text: string }[]> {
  return provider === 'sqlite' ? ofSqlite(databaseUrl) : ofPostgresql(databaseUrl);
}

/** Where a text stands, whatever its case. */
export async function placesWith(provider: Provider, databaseUrl: string, sought: string): Promise<string[]> {
  const cells = await everyText(provider, databaseUrl);
  const found = cells.filter(({ text }) => text.toLowerCase().includes(sought.toLowerCase()));
  return [...new Set(found.map(({ at }) => at))].sort();
}

type Rows = readonly Record<string, unknown>[];

async function ofSqlite(url: string) {
  const client = createClient({ url });
  try {
    const tables = await client.execute(`SELECT name FROM sqlite_master WHERE type = 'table'`);
    const names = tables.rows.map((row) => String(row.name));
    const read = async (name: string) => (await client.execute(`SELECT * FROM "${name}"`)).rows as unknown as Rows;
    return await cellsOf(names, read);
  } finally {
    client.close();
  }
}

async function ofPostgresql(connectionString: string) {
  const client = new pg.Client({ connectionString });
  await client.connect();
  try {
    const tables = await client.query<{ name: string }>(
      `SELECT table_name AS name FROM information_schema.tables WHERE table_schema = 'public'`,
    );
    const names = tables.rows.map(({ name }) => name);
    return await cellsOf(names, async (name) => (await client.query(`SELECT * FROM "${name}"`)).rows as Rows);
  } finally {
    await client.end();
  }
}

async function cellsOf(names: readonly string[], read: (name: string) => Promise<Rows>) {
  const cells: { at: string; text: string }[] = [];
  for (const name of names) {
    for (const row of await read(name)) {
      for (const [column, value] of Object.entries(row)) {
        if (typeof value === 'string') cells.push({ at: `${name}.${column}`, text: value });
      }
    }
  }
  return cells;
}
