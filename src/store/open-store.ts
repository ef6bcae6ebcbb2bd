import { AsyncLocalStorage } from 'node:async_hooks';
import type { ShopId } from '../trade/model/ids.ts';
import type { Connection } from './connection/connection.ts';
import { Turns } from './connection/turns.ts';
import { type Author, THE_SERVER } from './contract/audit.ts';
import { DoubleBooking } from './contract/errors.ts';
import type { Written } from './contract/written.ts';
import type { Prisma } from './generated/sqlite/client.ts';
import { OutboxWakes } from './outbox-wakes.ts';
import { providerOf } from './provider.ts';
import { CountedChange } from './records/counted-change.ts';
import { DocumentMemory } from './records/document-memory.ts';
import { EventMemory } from './records/event-memory.ts';
import { Gathered } from './records/gathered.ts';
import { PlanMemory } from './records/plan-memory.ts';
import { ReadingMemory } from './records/reading-memory.ts';
import { recordsOver } from './records/records.ts';
import type { Session } from './records/session.ts';
import { tallyOf } from './records/tally.ts';
import { writeGathered } from './records/write-gathered.ts';
import type { Records, Store, StoreOptions } from './store.ts';

const MOST_ATTEMPTS = 5;

/**
 * Opens a migrated database.
 * @throws MissingConstraints when the database itself does not forbid two cars in one place
 */
export async function openStore(options: StoreOptions): Promise<Store> {
  const connection = await connectionTo(options);
  try {
    await connection.assertConstraints();
  } catch (error) {
    await connection.close();
    throw error;
  }
  return storeOver(connection, options.clock ?? Date.now, options.logger, options.author);
}

/** Only the one database's client is loaded: the other's would take some 20 MB. */
async function connectionTo({ databaseUrl, logger }: StoreOptions): Promise<Connection> {
  if (providerOf(databaseUrl) === 'sqlite') {
    const { connectSqlite } = await import('./connection/sqlite.ts');
    return connectSqlite(databaseUrl);
  }
  const { connectPostgresql } = await import('./connection/postgresql.ts');
  return connectPostgresql(databaseUrl, logger);
}

/** A store over an open connection. */
export function storeOver(
  connection: Connection,
  clock: () => number,
  logger?: StoreOptions['logger'],
  author: () => Author = () => THE_SERVER,
): Store {
  const turns = new Turns();
  const wakes = new OutboxWakes(connection, logger);
  const running = new WeakMap<object, Gathered>();
  const around = new AsyncLocalStorage<{ open: boolean }>();
  const remembered = {
    documents: new DocumentMemory(),
    events: new EventMemory(),
    plans: new PlanMemory(),
    readings: new ReadingMemory(),
  };
  const gathered: Session['gathered'] = (transaction) => running.get(transaction)!;
  const common = {
    gathered,
    ...remembered,
    changesOf: connection.changesOf,
    now: clock,
    author,
    provider: connection.provider,
  };

  /** One transaction under the shop's lock, tried again when another process was in the way. */
  async function write<T>(
    shopId: string,
    written: readonly Written[],
    work: (transaction: Prisma.TransactionClient) => Promise<T>,
  ): Promise<T> {
    if (around.getStore()?.open) {
      throw new Error('a transaction is open here and would wait for itself: write through the records it was given');
    }
    for (let attempt = 1; ; attempt += 1) {
      const opened = { open: true };
      const change = new CountedChange(remembered.readings.own, shopId);
      let own = new Gathered(false);
      try {
        const result = await turns.take(connection.turnKey(shopId), () =>
          connection.client.$transaction(async (transaction) => {
            const count = shopId === '' ? null : await connection.lock(transaction, shopId);
            own = new Gathered(count !== null);
            own.written.push(...written);
            running.set(transaction, own);
            const done = await around.run(opened, () => work(transaction));
            await writeGathered(connection, transaction, own);
            if (count !== null) change.committing(count);
            return done;
          }),
        );
        change.committed(own.written);
        for (const act of own.afterwards) act();
        for (const shop of own.grown) wakes.tell(shop as ShopId);
        return result;
      } catch (error) {
        if (connection.doubleBooked(error)) throw new DoubleBooking(null);
        if (attempt === MOST_ATTEMPTS || !connection.lostRace(error)) throw error;
        logger?.warn({ err: error, shopId, attempt }, 'a transaction lost a race and is tried again');
      } finally {
        change.failedUnlessCommitted();
        opened.open = false;
      }
    }
  }

  return {
    ...recordsOver({
      ...common,
      reader: connection.client,
      committed: true,
      writeGathered: async () => {},
      write: (shopId, written, work) => write(shopId, [written], work),
    }),
    transaction: <T>(shopId: ShopId, work: (records: Records) => Promise<T>) =>
      write(shopId, [], (transaction) => {
        const within: Session['write'] = async (other, written, inner) => {
          if (other !== '' && other !== shopId) {
            throw new Error(`a transaction of shop ${shopId} cannot write to shop ${other}, which it has not locked`);
          }
          if (other !== '') gathered(transaction).written.push(written);
          return inner(transaction);
        };
        return work(
          recordsOver({
            ...common,
            reader: transaction,
            committed: false,
            writeGathered: () => writeGathered(connection, transaction, gathered(transaction)),
            write: within,
          }),
        );
      }),
    onOutbox: (listener) => wakes.add(listener),
    tally: () => tallyOf(connection.client),
    async ping() {
      await connection.client.$queryRaw`SELECT 1 AS one`;
    },
    async close() {
      wakes.stop();
      await connection.close();
    },
  };
}
