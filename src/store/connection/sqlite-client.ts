import type { Client, Config, InStatement, Transaction } from '@libsql/client';
import { PrismaLibSql } from '@prisma/adapter-libsql';
import type { KeptConnection } from './kept-connection.ts';

/**
 * Prisma's adapter over one connection that is kept. The adapter's own client opens a connection for every transaction,
 * each without our pragmas and closed only by the garbage collector, and begins transactions without the write lock,
 * so that two of them that read before they write can never both go on.
 */
export class OneConnectionLibSql extends PrismaLibSql {
  readonly #connection: KeptConnection;

  constructor(config: Config, connection: KeptConnection) {
    super(config);
    this.#connection = connection;
  }

  override createClient(): Client {
    return asClient(this.#connection) as unknown as Client;
  }
}

function asClient(connection: KeptConnection) {
  return {
    execute: (statement: InStatement) => connection.execute(statement),
    executeMultiple: (script: string) => connection.executeMultiple(script),
    transaction: async () => transactionOn(connection),
    close: () => connection.close(),
  };
}

/**
 * Begins with its first statement, so that beginning costs no way to the connection's thread and back of its own. Where that failed
 * all others fail too.
 */
function transactionOn(connection: KeptConnection): Transaction {
  let begun: Promise<unknown> | null = null;
  return {
    async execute(statement: InStatement) {
      if (begun === null) {
        const first = connection.beginWith(statement);
        begun = first;
        return first;
      }
      await begun;
      return connection.execute(statement);
    },
    async commit() {
      await begun;
      if (begun !== null) await connection.execute('COMMIT');
    },
    // Where another process had the lock there is none to be rolled back, which the adapter bears.
    async rollback() {
      if (begun !== null) await connection.execute('ROLLBACK');
    },
  } as Transaction;
}
