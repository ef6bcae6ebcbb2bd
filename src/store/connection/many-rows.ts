import { setImmediate as letOthersRun } from 'node:timers/promises';
import type { Prisma } from '../generated/sqlite/client.ts';
import type { Provider } from '../provider.ts';
import type { Queries } from './connection.ts';

/** Column names with their types, as both databases' migrations give them. */
export type Columns = Readonly<Record<string, 'text' | 'integer' | 'bigint'>>;

export type Cell = string | number | null;

/** Rows that one statement takes: they are written out on the thread that serves requests, which nothing may keep for long. */
const MOST_ROWS = 200;

/**
 * Inserts many rows with few statements of one parameter, a JSON array that the database unfolds. A plan has thousands
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
  const names = listed(columns);
  await eachPart(rows, async (part) => {
    const statement = `INSERT INTO "${table}" (${names}) ${unfolded(provider, columns)}`;
    await transaction.$executeRawUnsafe(statement, JSON.stringify(part));
  });
}

/** Deletes the rows that have these values in these columns, among them the shop's id; as `insertRows`. */
export async function deleteRows<C extends Columns>(
  transaction: Prisma.TransactionClient,
  provider: Provider,
  table: string,
  columns: C,
  rows: readonly Readonly<Record<keyof C, Cell>>[],
): Promise<void> {
  const names = listed(columns);
  await eachPart(rows, async (part) => {
    const statement = `DELETE FROM "${table}" WHERE (${names}) IN (${unfolded(provider, columns)})`;
    await transaction.$executeRawUnsafe(statement, JSON.stringify(part));
  });
}

const listed = (columns: Columns) =>
  Object.keys(columns)
    .map((name) => `"${name}"`)
    .join(', ');

function unfolded(provider: Provider, columns: Columns): string {
  const names = Object.keys(columns);
  return provider === 'sqlite'
    ? `SELECT ${names.map((name) => `value ->> '$.${name}'`).join(', ')} FROM json_each(?)`
    : `SELECT ${listed(columns)} FROM json_to_recordset($1::json) AS row(${names.map((name) => `"${name}" ${columns[name]}`).join(', ')})`;
}

async function eachPart<T>(rows: readonly T[], work: (part: readonly T[]) => Promise<void>): Promise<void> {
  for (let from = 0; from < rows.length; from += MOST_ROWS) {
    if (from > 0) await letOthersRun();
    await work(rows.slice(from, from + MOST_ROWS));
  }
}

/**
 * The documents of all of a shop's rows as one JSON array: read as one value, thousands of rows cost what a few do. `table`
 * goes into the statement as it is: constants only.
 */
export async function gatherDocuments(
  queries: Queries,
  provider: Provider,
  table: string,
  shopId: string,
): Promise<string> {
  const joined = provider === 'sqlite' ? `group_concat("document")` : `string_agg("document", ',')`;
  const parameter = provider === 'sqlite' ? '?' : '$1';
  const [row] = await queries.$queryRawUnsafe<{ documents: string }[]>(
    `SELECT '[' || coalesce(${joined}, '') || ']' AS documents FROM "${table}" WHERE "shopId" = ${parameter}`,
    shopId,
  );
  return row!.documents;
}

/**
 * Some columns of the rows that fit a condition as a JSON array of arrays, read as one value as `gatherDocuments` does. Parameters
 * are written $1, $2, ...; all other text goes into the statement as they are: constants only.
 */
export async function gatherColumns(
  queries: Queries,
  provider: Provider,
  from: string,
  columns: readonly string[],
  condition: string,
  parameters: readonly string[],
): Promise<unknown[][]> {
  const list = columns.join(', ');
  const rest = `AS gathered FROM ${from} WHERE ${condition}`;
  const statement =
    provider === 'sqlite'
      ? `SELECT json_group_array(json_array(${list})) ${rest}`.replaceAll(/\$(\d)/g, '?$1')
      : `SELECT coalesce(json_agg(json_build_array(${list})), '[]')::text ${rest}`;
  const [row] = await queries.$queryRawUnsafe<{ gathered: string }[]>(statement, ...parameters);
  return JSON.parse(row!.gathered) as unknown[][];
}
