import { Worker } from 'node:worker_threads';
import type { Config, InStatement, ResultSet } from '@libsql/client';
import type { KeptConnection, Use } from './kept-connection.ts';

/** What the connection's thread is asked. */
export type Asked =
  | { readonly kind: 'execute' | 'begin'; readonly statement: InStatement }
  | { readonly kind: 'executeMultiple'; readonly script: string };

/** What comes back: errors lose their class and their codes on the way, so these travel beside the message. */
export type Answered = { readonly id: number } & (
  | { readonly result: ResultSet | null }
  | { readonly fault: { readonly message: string; readonly code?: string; readonly rawCode?: number } }
);

interface Waiting {
  resolve(result: ResultSet | null): void;
  reject(error: Error): void;
}

/**
 * A connection on a thread of its own: a commit waits for the disk, and whoever else is served by this thread does not wait with it.
 * `code` is the compiled `sqlite-thread.js`. The thread keeps nobody's process alive.
 */
export function threadedConnection(config: Config, use: Use, code: URL): KeptConnection {
  const worker = new Worker(code, { workerData: { config, use } });
  const waiting = new Map<number, Waiting>();
  let asked = 0;
  let gone: Error | null = null;
  worker.unref();
  worker.on('message', (answer: Answered) => {
    const { resolve, reject } = waiting.get(answer.id)!;
    waiting.delete(answer.id);
    if (waiting.size === 0) worker.unref();
    if ('result' in answer) resolve(answer.result);
    else reject(Object.assign(new Error(answer.fault.message), answer.fault));
  });
  const end = (error: Error) => {
    gone = error;
    for (const { reject } of waiting.values()) reject(error);
    waiting.clear();
  };
  worker.on('error', end);
  const exited = new Promise<void>((resolve) => {
    worker.on('exit', () => {
      end(gone ?? new Error('the connection to the database is closed'));
      resolve();
    });
  });

  const ask = (what: Asked): Promise<ResultSet | null> =>
    new Promise((resolve, reject) => {
      if (gone !== null) return reject(gone);
      asked += 1;
      waiting.set(asked, { resolve, reject });
      worker.ref();
      worker.postMessage({ id: asked, ...what });
    });
  return {
    execute: async (statement) => (await ask({ kind: 'execute', statement }))!,
    executeMultiple: async (script) => void (await ask({ kind: 'executeMultiple', script })),
    begin: async (statement) => (await ask({ kind: 'begin', statement }))!,
    close: () => {
      worker.ref();
      worker.postMessage('close');
      return exited;
    },
  };
}
