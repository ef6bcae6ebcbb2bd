import type { Prisma } from '../generated/sqlite/client.ts';
import type { Provider } from '../provider.ts';

/** Column names with their types, as both databases' migrations give them. */
export type Columns = Readonly<Record<string, 'text' | 'integer' | 'bigint'>>;

export type Cell = string | number | null;

/**
 * Inserts many rows with one statement and one parameter, a JSON array that the database unfolds. A plan has thousands
 * of rows, for which Prisma's own insertion takes seconds. `table` and the names of `columns` go into the statement as
 * they are: constants only.
 */
export async function insertRows<C extends Columns>(
  transaction: Prisma.TransactionClient,
  provider: Provider,
  table: string,
  columns: C,
  rows: readonly Readonly<Record<keyof C, Cell>>[],
): Promise<void> {
  if (rows.length === 0) return;
  const names = Object.keys(columns);
  const listed = names.map((name) => `"${name}"`).join(', ');
  const source =
    provider === 'sqlite'
      ? `SELECT ${names.map((name) => `value ->> '$.${name}'`).join(', ')} FROM json_each(?)`
      : `SELECT ${listed} FROM json_to_recordset($1::json) AS row(${names.map((name) => `"${name}" ${columns[name]}`).join(', ')})`;
  await transaction.$executeRawUnsafe(`INSERT INTO "${table}" (${listed}) ${source}`, JSON.stringify(rows));
}
