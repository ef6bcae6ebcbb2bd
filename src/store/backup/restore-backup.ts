import { migrate } from '../migration/migrate.ts';
import { readMigrations } from '../migration/migrations.ts';
import { providerOf } from '../provider.ts';
import { DamagedBackup, type Footer, type Header, readLines } from './backup-file.ts';
import type { Contents, Row, TableShape } from './contents.ts';
import { openContents } from './open-contents.ts';
import { Summing } from './table-sum.ts';
import type { BackedUp } from './write-backup.ts';

/** A restore that would lose something, or cannot fit. Nothing was changed. */
export class RestoreRefused extends Error {
  constructor(why: string) {
    super(why);
    this.name = 'RestoreRefused';
  }
}

const ROWS_AT_ONCE = 500;

/**
 * Makes a database hold what a backup holds, all of it or nothing: in one transaction, which ends only once every table was
 * read again and adds up to what the backup says. A backup of an older release goes into a new database as that release
 * made it, and is then migrated. `replace` empties a database that holds something.
 * @throws DamagedBackup, RestoreRefused
 */
export async function restoreBackup(options: {
  databaseUrl: string;
  path: string;
  replace: boolean;
}): Promise<BackedUp> {
  const { databaseUrl, path } = options;
  const { header, footer } = await readThrough(path);
  const known = (await readMigrations(providerOf(databaseUrl))).migrationDirectories.map((each) => each.path);
  if (!header.migrations.every((name, at) => name === known[at])) {
    throw new RestoreRefused('The backup is of another release, whose tables this one does not know.');
  }
  const before = await appliedIn(databaseUrl);
  if (before.length === 0) await migrate({ databaseUrl, upTo: header.migrations.length });
  else if (before.join() !== header.migrations.join()) {
    throw new RestoreRefused('The database is not of the backup’s release: restore into a new one.');
  }
  const restored = await fill(databaseUrl, path, header, footer, options.replace);
  await migrate({ databaseUrl });
  return restored;
}

/** Reads the whole file once, so that nothing is begun with one that is damaged. */
async function readThrough(path: string): Promise<{ header: Header; footer: Footer }> {
  let header: Header | undefined;
  let footer: Footer | undefined;
  for await (const line of readLines(path)) {
    if ('header' in line) header = line.header;
    else if ('footer' in line) footer = line.footer;
    else if (header!.tables[line.table]?.columns.length !== line.row.length)
      throw new DamagedBackup('a row has no table');
  }
  return { header: header!, footer: footer! };
}

async function appliedIn(databaseUrl: string): Promise<string[]> {
  let contents: Contents | undefined;
  try {
    contents = await openContents(databaseUrl, 'read');
    return await contents.migrations();
  } catch (error) {
    // No file, or no table of migrations: a new database. Whatever else is wrong shows when it is migrated.
    if (contents === undefined && providerOf(databaseUrl) === 'postgresql') throw error;
    return [];
  } finally {
    await contents?.close();
  }
}

async function fill(
  databaseUrl: string,
  path: string,
  header: Header,
  footer: Footer,
  replace: boolean,
): Promise<BackedUp> {
  const contents = await openContents(databaseUrl, 'write');
  try {
    const there = await contents.tables();
    if (JSON.stringify(shapes(there)) !== JSON.stringify(shapes(header.tables))) {
      throw new RestoreRefused('The database’s tables are not those of the backup.');
    }
    for (const table of there.toReversed()) {
      if (replace) await contents.clear(table);
      else if (await holdsSomething(contents, table)) {
        throw new RestoreRefused(
          'The database holds something already; nothing was changed. "--replace" empties it first.',
        );
      }
    }
    let waiting: { table: number; rows: Row[] } = { table: 0, rows: [] };
    const flush = async () => {
      if (waiting.rows.length > 0) await contents.insert(header.tables[waiting.table]!, waiting.rows);
    };
    for await (const line of readLines(path)) {
      if (!('row' in line)) continue;
      if (line.table !== waiting.table || waiting.rows.length >= ROWS_AT_ONCE) {
        await flush();
        waiting = { table: line.table, rows: [] };
      }
      waiting.rows.push(line.row);
    }
    await flush();
    const tables = [];
    for (const [number, table] of header.tables.entries()) {
      const sum = new Summing();
      for await (const row of contents.rows(table)) sum.add(row);
      const wanted = footer.sums[number];
      if (sum.total.rows !== wanted?.rows || sum.total.sum !== wanted.sum) {
        throw new Error(`table ${table.name} is not what the backup holds; nothing was changed`);
      }
      tables.push({ name: table.name, ...sum.total });
    }
    await contents.commit();
    return { tables };
  } finally {
    await contents.close();
  }
}

async function holdsSomething(contents: Contents, table: TableShape): Promise<boolean> {
  for await (const _ of contents.rows(table)) return true;
  return false;
}

/** Tables by name, since each database tells them in an order of its own. */
function shapes(tables: readonly TableShape[]) {
  return [...tables].sort((a, b) => (a.name < b.name ? -1 : 1)).map(({ name, columns }) => ({ name, columns }));
}
