import { randomUUID } from 'node:crypto';
import { PrismaPg } from '@prisma/adapter-pg';
import { PrismaClient } from '../generated/postgresql/client.ts';
import { announcements } from './announcements.ts';
import { lockAndCount } from './change-count.ts';
import { type Client, type Connection, MissingConstraints } from './connection.ts';
import { databaseErrors } from './database-error.ts';

const LONGEST_TRANSACTION_MS = 20_000;
/** A database that is lost answers neither yes nor no: nobody waits for it longer than this. */
const CONNECT_MS = 5_000;
/** Longer than any statement may take; its client gives it up then, its server a moment later. */
const LONGEST_STATEMENT_MS = 20_000;
/** A client that is gone with its machine keeps no lock longer than this. */
const IDLE_IN_TRANSACTION_MS = 30_000;
const PROBE_AFTER_MS = 10_000;
/** SQLSTATE: serialization failure, deadlock detected. */
const LOST_RACE = new Set(['40001', '40P01']);
/** SQLSTATE: exclusion violation. */
const EXCLUSION_VIOLATION = '23P01';

export function connectPostgresql(
  databaseUrl: string,
  logger?: { warn(detail: object, message: string): void },
): Connection {
  const client = new PrismaClient({
    adapter: new PrismaPg(
      {
        connectionString: databaseUrl,
        connectionTimeoutMillis: CONNECT_MS,
        query_timeout: LONGEST_STATEMENT_MS,
        statement_timeout: LONGEST_STATEMENT_MS,
        idle_in_transaction_session_timeout: IDLE_IN_TRANSACTION_MS,
        keepAlive: true,
        keepAliveInitialDelayMillis: PROBE_AFTER_MS,
      },
      { onPoolError: (error) => logger?.warn({ err: error }, 'an idle database connection broke') },
    ),
    transactionOptions: { maxWait: LONGEST_TRANSACTION_MS, timeout: LONGEST_TRANSACTION_MS },
  }) as unknown as Client;
  const self = randomUUID();
  return {
    provider: 'postgresql',
    client,
    turnKey: (shopId) => shopId,
    lock: lockAndCount,
    async changesOf(shopId) {
      const [row] = await client.$queryRaw<{ changes: bigint }[]>`SELECT "changes" FROM "Shop" WHERE "id" = ${shopId}`;
      return row === undefined ? null : Number(row.changes);
    },
    async assertConstraints() {
      const rows = await client.$queryRaw<{ name: string }[]>`
        SELECT conname::text AS name FROM pg_constraint
        WHERE conrelid = to_regclass('"Occupancy"') AND contype = 'x' AND conname = 'Occupancy_no_overlap' AND condeferrable`;
      if (rows.length === 0) throw new MissingConstraints(['exclusion constraint Occupancy_no_overlap']);
    },
    lostRace: (error) => databaseErrors(error).some(({ code }) => LOST_RACE.has(code)),
    doubleBooked: (error) => databaseErrors(error).some(({ code }) => code === EXCLUSION_VIOLATION),
    async announce(transaction, shopId) {
      await transaction.$executeRaw`SELECT pg_notify('panelday_outbox', ${`${self} ${shopId}`})`;
    },
    listen: (heard) => announcements(databaseUrl, self, heard),
    close: () => client.$disconnect(),
  };
}
