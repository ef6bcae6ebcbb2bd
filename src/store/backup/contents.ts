/** Types of columns that both databases have. */
export type CellType = 'text' | 'integer' | 'bigint' | 'boolean' | 'bytes';

/** A cell as a backup holds it: bytes in base64, flags as true and false, on either database. */
export type Cell = string | number | boolean | null;
export type Row = readonly Cell[];

export interface TableShape {
  readonly name: string;
  /** By name, so that two databases whose columns were added in another order agree. */
  readonly columns: readonly { readonly name: string; readonly type: CellType }[];
}

/** All that a database holds, within one transaction: read at one moment, or written whole or not at all. */
export interface Contents {
  /** Names of the migrations that made the tables, oldest first. */
  migrations(): Promise<string[]>;
  /** Every table of ours, after those its rows refer to. */
  tables(): Promise<TableShape[]>;
  rows(table: TableShape): AsyncIterable<Row>;
  clear(table: TableShape): Promise<void>;
  insert(table: TableShape, rows: readonly Row[]): Promise<void>;
  commit(): Promise<void>;
  /** Ends the transaction, and with it what was not committed. */
  close(): Promise<void>;
}

/** Prisma's own table: what it says is made by migrating, not by restoring. */
export const MIGRATIONS = '_prisma_migrations';
export const APPLIED = `SELECT migration_name AS name FROM ${MIGRATIONS} WHERE finished_at IS NOT NULL AND rolled_back_at IS NULL ORDER BY migration_name`;

/** Rows read at once: pictures are large, all else is small. */
export function rowsAtOnce({ columns }: TableShape): number {
  return columns.some(({ type }) => type === 'bytes') ? 4 : 500;
}

/** Names in order, each after the names it refers to. @throws when they refer to each other in a circle */
export function afterReferred(refersTo: ReadonlyMap<string, readonly string[]>): string[] {
  const ordered = new Set<string>();
  const visit = (name: string, from: readonly string[]) => {
    if (ordered.has(name)) return;
    if (from.includes(name)) throw new Error(`tables refer to each other: ${[...from, name].join(', ')}`);
    for (const other of refersTo.get(name) ?? []) if (other !== name) visit(other, [...from, name]);
    ordered.add(name);
  };
  for (const name of [...refersTo.keys()].sort()) visit(name, []);
  return [...ordered];
}

/** `"a", "b"`, of names that the database itself told. */
export function listed(columns: TableShape['columns']): string {
  return columns.map(({ name }) => `"${name}"`).join(', ');
}

/** Parameters of one statement; both databases take more. */
const MOST_PARAMETERS = 8_000;

/** Rows in parts that one statement takes. */
export function inParts(table: TableShape, rows: readonly Row[]): Row[][] {
  const many = Math.max(1, Math.floor(MOST_PARAMETERS / table.columns.length));
  return Array.from({ length: Math.ceil(rows.length / many) }, (_, at) => rows.slice(at * many, (at + 1) * many));
}
