import type { Queries } from '../connection/connection.ts';
import { UnknownReference } from '../contract/errors.ts';
import { type Table, type TableName, tableOf } from './table.ts';

/** A field of a document that names another one of the same shop. */
export interface Reference {
  /** Path in the document. */
  readonly field: string;
  readonly table: TableName;
  readonly id: string;
}

/** Ids looked for in one query; both databases take more parameters than this. */
const BATCH = 500;

/**
 * Tells which field is wrong, where the foreign key would only say that one is.
 * @throws UnknownReference for the first reference to something that is not there
 */
export async function checkReferences(
  queries: Queries,
  shopId: string,
  references: readonly Reference[],
): Promise<void> {
  const there = new Map<TableName, Set<string>>();
  for (const { table, id } of references) there.set(table, (there.get(table) ?? new Set()).add(id));
  for (const [table, wanted] of there) there.set(table, await present(tableOf(queries, table), shopId, [...wanted]));
  for (const { field, table, id } of references) {
    if (!there.get(table)!.has(id)) throw new UnknownReference(field, table, id);
  }
}

/** @throws UnknownReference when the shop is not there */
export async function checkShop(queries: Queries, shopId: string): Promise<void> {
  const found = await queries.shop.findUnique({ where: { id: shopId }, select: { id: true } });
  if (found === null) throw new UnknownReference('shopId', 'shop', shopId);
}

async function present(table: Table, shopId: string, ids: string[]): Promise<Set<string>> {
  const found = new Set<string>();
  for (let from = 0; from < ids.length; from += BATCH) {
    const rows = await table.findMany({
      where: { shopId, id: { in: ids.slice(from, from + BATCH) } },
      select: { id: true },
    });
    for (const row of rows) found.add(row.id as string);
  }
  return found;
}
