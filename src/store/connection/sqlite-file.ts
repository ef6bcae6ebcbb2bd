import { databaseTrouble } from '../database-trouble.ts';
import type { KeptConnection } from './kept-connection.ts';

/** How the connections to one file are opened, and let go of. */
export interface Opening {
  reading(): KeptConnection;
  writing(): KeptConnection;
  /** Whether the file can be written as things are. */
  canBeWritten(): boolean;
  /** Called between closing both and opening them again: what still holds on to them lets go. */
  letGo(): Promise<void>;
}

/** Two connections to one file, as if they were opened once. */
export interface SqliteFile {
  readonly reading: KeptConnection;
  readonly writing: KeptConnection;
  close(): Promise<void>;
}

/**
 * Keeps two connections to one file. SQLite shares what it knows of a file among all connections of a process, and one that could not be
 * written when it was opened stays so for as long as any of them is open (sqlite.org/wal.html, "Read-Only Databases"). So once a write was refused for that
 * and the file can be written after all, the next transaction has both closed and opened anew; who reads meanwhile waits for it.
 */
export function sqliteFile(opening: Opening): SqliteFile {
  let reading = opening.reading();
  let writing = opening.writing();
  let wasRefused = false;
  let renewal: Promise<void> | null = null;

  const renew = async () => {
    await reading.close();
    await writing.close();
    await opening.letGo();
    reading = opening.reading();
    writing = opening.writing();
    wasRefused = false;
  };
  const readyToRead = async () => {
    if (renewal !== null) await renewal;
    return reading;
  };
  const begin: KeptConnection['begin'] = async (first) => {
    if (wasRefused && opening.canBeWritten()) {
      renewal = renew();
      await renewal.finally(() => {
        renewal = null;
      });
    }
    try {
      return await writing.begin(first);
    } catch (error) {
      wasRefused ||= databaseTrouble(error) === 'readOnly';
      throw error;
    }
  };
  return {
    reading: {
      execute: async (statement) => (await readyToRead()).execute(statement),
      executeMultiple: async (script) => (await readyToRead()).executeMultiple(script),
      begin: async (first) => (await readyToRead()).begin(first),
      close: () => reading.close(),
    },
    writing: {
      execute: (statement) => writing.execute(statement),
      executeMultiple: (script) => writing.executeMultiple(script),
      begin,
      close: () => writing.close(),
    },
    async close() {
      await reading.close();
      await writing.close();
    },
  };
}
