import type { Client, Config, InStatement, Transaction } from '@libsql/client';
import { PrismaLibSql } from '@prisma/adapter-libsql';
import type { KeptConnection } from './kept-connection.ts';

type Adapter = Awaited<ReturnType<PrismaLibSql['connect']>>;

/**
 * Prisma's adapter over two connections that are kept: what is asked outside of transactions reads on one and never waits for a transaction,
 * which has the other. A second client of Prisma would do the same and hold its picture of the schema twice, some 10 MB.
 */
export class TwoConnectionsLibSql extends PrismaLibSql {
  readonly #reading: Adapted;
  readonly #writing: Adapted;

  constructor(config: Config, reading: KeptConnection, writing: KeptConnection) {
    super(config);
    this.#reading = new Adapted(config, reading);
    this.#writing = new Adapted(config, writing);
  }

  override async connect(): Promise<Adapter> {
    const reads = await this.#reading.connect();
    const writes = await this.#writing.connect();
    return {
      provider: reads.provider,
      adapterName: reads.adapterName,
      queryRaw: (query) => reads.queryRaw(query),
      executeRaw: (query) => reads.executeRaw(query),
      executeScript: (script) => reads.executeScript(script),
      startTransaction: (isolationLevel) => writes.startTransaction(isolationLevel),
      async dispose() {
        await reads.dispose();
        await writes.dispose();
      },
    };
  }
}

/**
 * Prisma's adapter over one connection that is kept. The adapter's own client opens a connection for every transaction,
 * each without our pragmas and closed only by the garbage collector, and begins transactions without the write lock,
 * so that two of them that read before they write can never both go on.
 */
class Adapted extends PrismaLibSql {
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
    // Whoever opened the connections closes them.
    close: () => {},
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
        const first = connection.begin(statement);
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
