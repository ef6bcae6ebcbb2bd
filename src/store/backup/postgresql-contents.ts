import pg from 'pg';
import {
  APPLIED,
  afterReferred,
  type Cell,
  type CellType,
  type Contents,
  inParts,
  listed,
  MIGRATIONS,
  rowsAtOnce,
} from './contents.ts';

const typeOf: Readonly<Record<string, CellType>> = {
  text: 'text',
  integer: 'integer',
  bigint: 'bigint',
  boolean: 'boolean',
  bytea: 'bytes',
};

/** What a PostgreSQL database holds, as one moment saw it (repeatable read); others go on writing. */
export async function postgresqlContents(databaseUrl: string, use: 'read' | 'write'): Promise<Contents> {
  const client = new pg.Client({ connectionString: databaseUrl });
  await client.connect();
  let ended = false;
  let cursors = 0;
  const named = async (sql: string) => (await client.query<{ name: string; other: string; type: string }>(sql)).rows;
  await client.query(`BEGIN ISOLATION LEVEL REPEATABLE READ${use === 'read' ? ' READ ONLY' : ''}`);
  return {
    migrations: async () => (await named(APPLIED)).map(({ name }) => name),
    async tables() {
      const refersTo = new Map<string, string[]>();
      for (const { name } of await named(
        `SELECT tablename AS name FROM pg_tables WHERE schemaname = current_schema() AND tablename <> '${MIGRATIONS}'`,
      )) {
        refersTo.set(name, []);
      }
      for (const { name, other } of await named(
        `SELECT of.relname AS name, "to".relname AS other FROM pg_constraint c
         JOIN pg_class of ON of.oid = c.conrelid JOIN pg_class "to" ON "to".oid = c.confrelid WHERE c.contype = 'f'`,
      )) {
        refersTo.get(name)?.push(other);
      }
      const columns = await named(
        `SELECT table_name AS other, column_name AS name, data_type AS type FROM information_schema.columns
         WHERE table_schema = current_schema() ORDER BY column_name COLLATE "C"`,
      );
      return afterReferred(refersTo).map((name) => ({
        name,
        columns: columns
          .filter(({ other }) => other === name)
          .map((each) => ({ name: each.name, type: typeOf[each.type]! })),
      }));
    },
    async *rows(table) {
      cursors += 1;
      const cursor = `backup_${cursors}`;
      await client.query(`DECLARE ${cursor} NO SCROLL CURSOR FOR SELECT ${listed(table.columns)} FROM "${table.name}"`);
      for (;;) {
        const text = `FETCH ${rowsAtOnce(table)} FROM ${cursor}`;
        const { rows } = await client.query<unknown[]>({ text, rowMode: 'array' });
        for (const row of rows) yield table.columns.map(({ type }, at) => cellOf(type, row[at]));
        if (rows.length === 0) break;
      }
      await client.query(`CLOSE ${cursor}`);
    },
    clear: async ({ name }) => void (await client.query(`DELETE FROM "${name}"`)),
    async insert(table, rows) {
      const width = table.columns.length;
      for (const part of inParts(table, rows)) {
        const marks = part.map((_, row) => `(${table.columns.map((__, at) => `$${row * width + at + 1}`).join(', ')})`);
        await client.query(
          `INSERT INTO "${table.name}" (${listed(table.columns)}) VALUES ${marks.join(', ')}`,
          part.flatMap((row) => row.map((cell, at) => parameterOf(table.columns[at]!.type, cell))),
        );
      }
    },
    async commit() {
      await client.query('COMMIT');
      ended = true;
    },
    async close() {
      try {
        if (!ended) await client.query('ROLLBACK');
      } finally {
        await client.end();
      }
    },
  };
}

function cellOf(type: CellType, value: unknown): Cell {
  if (value === null) return null;
  if (type === 'bigint') return Number(value);
  if (Buffer.isBuffer(value)) return value.toString('base64');
  return value as Cell;
}

function parameterOf(type: CellType, cell: Cell): unknown {
  return type === 'bytes' && typeof cell === 'string' ? Buffer.from(cell, 'base64') : cell;
}
