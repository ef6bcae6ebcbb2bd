import { accessSync, constants, existsSync } from 'node:fs';
import { PrismaClient } from '../generated/sqlite/client.ts';
import { sqlitePath } from '../migration/sqlite-path.ts';
import { lockAndCount } from './change-count.ts';
import { collectGarbage } from './collect-garbage.ts';
import { type Connection, MissingConstraints } from './connection.ts';
import { databaseErrors } from './database-error.ts';
import { keptConnection } from './kept-connection.ts';
import { TwoConnectionsLibSql } from './sqlite-client.ts';
import { sqliteFile } from './sqlite-file.ts';
import { threadedConnection } from './threaded-connection.ts';

const TRIGGERS = ['Occupancy_no_overlap_insert', 'Occupancy_no_overlap_update'];
/** A transaction holds the file's only write lock; longer than this is a fault. */
const LONGEST_TRANSACTION_MS = 20_000;
const BUSY = /^(5|261|517|SQLITE_BUSY.*)$/;

/** Two connections to one file in WAL mode: one reads, one writes; the one that writes on a thread of its own, where there is code for it. */
export function connectSqlite(databaseUrl: string, thread: URL | undefined = compiledThread()): Connection {
  const config = { url: databaseUrl };
  const file = sqliteFile({
    reading: () => keptConnection(config, 'read'),
    writing: () =>
      thread === undefined ? keptConnection(config, 'write') : threadedConnection(config, 'write', thread),
    canBeWritten: () => isWritable(sqlitePath(databaseUrl)),
    // Statements of a closed connection keep it open in the driver until they are collected.
    letGo: collectGarbage,
  });
  const client = new PrismaClient({
    adapter: new TwoConnectionsLibSql(config, file.reading, file.writing),
    transactionOptions: { maxWait: LONGEST_TRANSACTION_MS, timeout: LONGEST_TRANSACTION_MS },
  });
  return {
    provider: 'sqlite',
    client,
    turnKey: () => '',
    lock: lockAndCount,
    async changesOf(shopId) {
      // Asked at every reading: past Prisma it takes a fifth of the time.
      const { rows } = await file.reading.execute({
        sql: 'SELECT "changes" FROM "Shop" WHERE "id" = ?',
        args: [shopId],
      });
      return rows[0] === undefined ? null : Number(rows[0][0]);
    },
    async assertConstraints() {
      const rows = await client.$queryRaw<{ name: string }[]>`
        SELECT name FROM sqlite_master WHERE type = 'trigger' AND tbl_name = 'Occupancy'`;
      const there = new Set(rows.map((row) => row.name));
      const missing = TRIGGERS.filter((name) => !there.has(name)).map((name) => `trigger ${name}`);
      if (missing.length > 0) throw new MissingConstraints(missing);
    },
    lostRace: (error) => databaseErrors(error).some(({ code }) => BUSY.test(code)),
    doubleBooked: (error) => databaseErrors(error).some(({ message }) => message.includes('double booking')),
    announce: async () => {},
    listen: () => () => {},
    async close() {
      await client.$disconnect();
      await file.close();
    },
  };
}

function isWritable(path: string): boolean {
  try {
    accessSync(path, constants.W_OK);
    return true;
  } catch {
    return false;
  }
}

/** Threads run compiled code: where there is none beside this file, as in tests of the sources, the connection does without. */
function compiledThread(): URL | undefined {
  const code = new URL('./sqlite-thread.js', import.meta.url);
  return existsSync(code) ? code : undefined;
}
