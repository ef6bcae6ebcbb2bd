import type { InValue, Value } from '@libsql/client';
import { keptConnection } from '../connection/kept-connection.ts';
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
  TEXT: 'text',
  INTEGER: 'integer',
  BIGINT: 'bigint',
  BOOLEAN: 'boolean',
  BLOB: 'bytes',
};

/** What a SQLite file holds. Reading sees one moment while others write (WAL); writing has taken the file's write lock. */
export async function sqliteContents(databaseUrl: string, use: 'read' | 'write'): Promise<Contents> {
  const connection = keptConnection({ url: databaseUrl }, use);
  let ended = false;
  const texts = async (sql: string) => (await connection.execute(sql)).rows.map((row) => String(row.name));
  await connection.begin('SELECT 1');
  return {
    migrations: () => texts(APPLIED),
    async tables() {
      const names = await texts(
        `SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite_%' AND name <> '${MIGRATIONS}'`,
      );
      const refersTo = new Map<string, string[]>();
      for (const name of names) {
        refersTo.set(name, await texts(`SELECT "table" AS name FROM pragma_foreign_key_list('${name}')`));
      }
      const shapes = afterReferred(refersTo).map(async (name) => {
        const { rows } = await connection.execute(`SELECT name, type FROM pragma_table_info('${name}') ORDER BY name`);
        return { name, columns: rows.map((row) => ({ name: String(row.name), type: typeOf[String(row.type)]! })) };
      });
      return Promise.all(shapes);
    },
    async *rows(table) {
      const many = rowsAtOnce(table);
      for (let after = 0; ; ) {
        const { rows } = await connection.execute({
          sql: `SELECT rowid AS "number", ${listed(table.columns)} FROM "${table.name}" WHERE rowid > ? ORDER BY rowid LIMIT ?`,
          args: [after, many],
        });
        for (const row of rows) yield table.columns.map(({ type }, at) => cellOf(type, row[at + 1]!));
        if (rows.length < many) return;
        after = Number(rows.at(-1)![0]);
      }
    },
    clear: async ({ name }) => void (await connection.execute(`DELETE FROM "${name}"`)),
    async insert(table, rows) {
      const marks = `(${table.columns.map(() => '?').join(', ')})`;
      for (const part of inParts(table, rows)) {
        await connection.execute({
          sql: `INSERT INTO "${table.name}" (${listed(table.columns)}) VALUES ${part.map(() => marks).join(', ')}`,
          args: part.flatMap((row) => row.map((cell, at) => parameterOf(table.columns[at]!.type, cell))),
        });
      }
    },
    async commit() {
      await connection.execute('COMMIT');
      ended = true;
    },
    async close() {
      if (!ended) await connection.execute('ROLLBACK');
      await connection.close();
    },
  };
}

function cellOf(type: CellType, value: Value): Cell {
  if (value === null) return null;
  if (type === 'boolean') return Boolean(value);
  if (value instanceof ArrayBuffer) return Buffer.from(value).toString('base64');
  return value as Cell;
}

function parameterOf(type: CellType, cell: Cell): InValue {
  return type === 'bytes' && typeof cell === 'string' ? new Uint8Array(Buffer.from(cell, 'base64')) : cell;
}
