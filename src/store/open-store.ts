import { AsyncLocalStorage } from 'node:async_hooks';
import type { ShopId } from '../trade/model/ids.ts';
import type { Connection } from './connection/connection.ts';
import { connectPostgresql } from './connection/postgresql.ts';
import { connectSqlite } from './connection/sqlite.ts';
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
import { PlanMemory } from './records/plan-memory.ts';
import { ReadingMemory } from './records/reading-memory.ts';
import { recordsOver } from './records/records.ts';
import type { Session } from './records/session.ts';
import { tallyOf } from './records/tally.ts';
import type { Records, Store, StoreOptions } from './store.ts';

const MOST_ATTEMPTS = 5;

/**
 * Opens a migrated database.
 * @throws MissingConstraints when the database itself does not forbid two cars in one place
 */
export async function openStore(options: StoreOptions): Promise<Store> {
  const connection =
    providerOf(options.databaseUrl) === 'sqlite'
      ? connectSqlite(options.databaseUrl)
      : connectPostgresql(options.databaseUrl, options.logger);
  try {
    await connection.assertConstraints();
  } catch (error) {
    await connection.close();
    throw error;
  }
  return storeOver(connection, options.clock ?? Date.now, options.logger, options.author);
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
  const grown = new WeakMap<object, Set<string>>();
  const promised = new WeakMap<object, (() => void)[]>();
  const around = new AsyncLocalStorage<{ open: boolean }>();

  const announce: Session['announce'] = (transaction, shopId) => {
    grown.get(transaction)?.add(shopId);
    return connection.announce(transaction, shopId);
  };

  const afterCommit: Session['afterCommit'] = (transaction, act) => promised.get(transaction)?.push(act);

  const remembered = {
    documents: new DocumentMemory(),
    events: new EventMemory(),
    plans: new PlanMemory(),
    readings: new ReadingMemory(),
  };
  const common = { announce, afterCommit, ...remembered, now: clock, author, provider: connection.provider };

  /** One transaction under the shop's lock, tried again when another process was in the way. */
  async function write<T>(
    shopId: string,
    work: (transaction: Prisma.TransactionClient, written: Written[]) => Promise<T>,
    itself: Written[],
  ): Promise<T> {
    if (around.getStore()?.open) {
      throw new Error('a transaction is open here and would wait for itself: write through the records it was given');
    }
    for (let attempt = 1; ; attempt += 1) {
      const opened = { open: true };
      const shops = new Set<string>();
      const acts: (() => void)[] = [];
      const written = [...itself];
      const change = new CountedChange(remembered.readings.own, shopId);
      try {
        const result = await turns.take(connection.turnKey(shopId), () =>
          connection.writer.$transaction(async (transaction) => {
            grown.set(transaction, shops);
            promised.set(transaction, acts);
            const count = shopId === '' ? null : await connection.lock(transaction, shopId);
            const result = await around.run(opened, () => work(transaction, written));
            if (count !== null) change.committing(count);
            return result;
          }),
        );
        change.committed(written);
        for (const act of acts) act();
        for (const shop of shops) wakes.tell(shop as ShopId);
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
      reader: connection.reader,
      committed: true,
      write: (shopId, written, work) => write(shopId, work, [written]),
    }),
    transaction: <T>(shopId: ShopId, work: (records: Records) => Promise<T>) =>
      write(
        shopId,
        (transaction, all) => {
          const within: Session['write'] = async (other, written, inner) => {
            if (other !== '' && other !== shopId) {
              throw new Error(`a transaction of shop ${shopId} cannot write to shop ${other}, which it has not locked`);
            }
            if (other !== '') all.push(written);
            return inner(transaction);
          };
          return work(recordsOver({ ...common, reader: transaction, committed: false, write: within }));
        },
        [],
      ),
    onOutbox: (listener) => wakes.add(listener),
    tally: () => tallyOf(connection.reader),
    async ping() {
      await connection.reader.$queryRaw`SELECT 1 AS one`;
    },
    async close() {
      wakes.stop();
      await connection.close();
    },
  };
}
