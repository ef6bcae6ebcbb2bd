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
