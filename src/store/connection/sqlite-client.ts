import type { Client, Config, InStatement, Transaction } from '@libsql/client';
import { PrismaLibSql } from '@prisma/adapter-libsql';
import { type KeptConnection, keptConnection, type Use } from './kept-connection.ts';
import { threadedConnection } from './threaded-connection.ts';

/**
 * Prisma's adapter over one connection that is kept. The adapter's own client opens a connection for every transaction,
 * each without our pragmas and closed only by the garbage collector, and begins transactions without the write lock,
 * so that two of them that read before they write can never both go on. `thread`: the compiled code of a thread of its own for the
 * connection; absent, it is on this one.
 */
export class OneConnectionLibSql extends PrismaLibSql {
  readonly #use: Use;
  readonly #thread: URL | undefined;

  constructor(config: Config, use: Use, thread?: URL) {
    super(config);
    this.#use = use;
    this.#thread = thread;
  }

  override createClient(config: Config): Client {
    const connection =
      this.#thread === undefined
        ? keptConnection(config, this.#use)
        : threadedConnection(config, this.#use, this.#thread);
    return asClient(connection) as unknown as Client;
  }
}

function asClient(connection: KeptConnection) {
  return {
    execute: (statement: InStatement) => connection.execute(statement),
    executeMultiple: (script: string) => connection.executeMultiple(script),
    async transaction(): Promise<Transaction> {
      await connection.begin();
      return {
        execute: (statement: InStatement) => connection.execute(statement),
        commit: async () => void (await connection.execute('COMMIT')),
        rollback: async () => void (await connection.execute('ROLLBACK')),
      } as Transaction;
    },
    close: () => connection.close(),
  };
}
