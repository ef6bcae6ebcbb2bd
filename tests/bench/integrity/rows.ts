import { createClient } from '@libsql/client';
import pg from 'pg';
import { providerOf } from '../../../src/store/provider.ts';

export type Row = Readonly<Record<string, string | number>>;

/** Reads rows past the application, by the database's own driver; instants come as numbers. */
export async function rowsOf(databaseUrl: string, statement: string): Promise<Row[]> {
  if (providerOf(databaseUrl) === 'sqlite') {
    const client = createClient({ url: databaseUrl });
    try {
      await client.execute('PRAGMA busy_timeout = 10000');
      const { rows, columns } = await client.execute(statement);
      return rows.map((row) => Object.fromEntries(columns.map((name) => [name, row[name] as string | number])));
    } finally {
      client.close();
    }
  }
  const client = new pg.Client({ connectionString: databaseUrl });
  await client.connect();
  try {
    const { rows, fields } = await client.query(statement);
    const wide = new Set(
      fields.filter(({ dataTypeID }) => dataTypeID === pg.types.builtins.INT8).map(({ name }) => name),
    );
    return rows.map((row) =>
      Object.fromEntries(Object.entries(row).map(([name, value]) => [name, wide.has(name) ? Number(value) : value])),
    ) as Row[];
  } finally {
    await client.end();
  }
}
