import { parentPort, workerData } from 'node:worker_threads';
import type { Config, ResultSet } from '@libsql/client';
import { keptConnection, type Use } from './kept-connection.ts';
import type { Answered, Asked } from './threaded-connection.ts';

// What runs in the thread that `threadedConnection` starts.
const { config, use } = workerData as { config: Config; use: Use };
const connection = keptConnection(config, use);
const port = parentPort!;

port.on('message', async (message: ({ readonly id: number } & Asked) | 'close') => {
  if (message === 'close') {
    await connection.close();
    port.close();
    return;
  }
  port.postMessage(await answer(message));
});

async function answer(asked: { readonly id: number } & Asked): Promise<Answered> {
  const { id } = asked;
  try {
    if (asked.kind !== 'executeMultiple') return { id, result: plain(await connection[asked.kind](asked.statement)) };
    await connection.executeMultiple(asked.script);
    return { id, result: null };
  } catch (error) {
    const { message, code, rawCode } = error as { message: string; code?: string; rawCode?: number };
    return {
      id,
      fault: { message, ...(code === undefined ? {} : { code }), ...(rawCode === undefined ? {} : { rawCode }) },
    };
  }
}

/** A row's cells can be read by number, which copying it to another thread would lose: rows travel as lists of cells. */
function plain({ columns, columnTypes, rows, rowsAffected, lastInsertRowid }: ResultSet): ResultSet {
  const cells = rows.map((row) => Array.from(row));
  return { columns, columnTypes, rows: cells, rowsAffected, lastInsertRowid } as unknown as ResultSet;
}
