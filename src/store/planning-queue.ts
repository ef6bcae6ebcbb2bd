import pg from 'pg';
import PgBoss from 'pg-boss';
import type { ShopId } from '../trade/model/ids.ts';
import type { Author } from './contract/audit.ts';
import type { StoreOptions } from './store.ts';

/** A shop that wants a plan, and in whose name it was asked for. */
export interface PlanAsk extends Author {
  readonly shopId: ShopId;
  readonly reason: string;
}

/** What is wanted of a shop's plan: a new one since something happened, or a better one while nothing does. */
export type Wanted = 'plan' | 'better';

/** Work that waits in the database for whichever process has time for it. */
export interface PlanningQueue {
  /** Several asks of one shop that nobody has begun are one. Resolves when it is stored. */
  ask(wanted: Wanted, ask: PlanAsk): Promise<void>;
  /** The longest waiting ask, begun; null when there is none. Plans come before better ones. */
  take(): Promise<Taken | null>;
  /** Asks that nobody has begun. */
  waiting(wanted: Wanted): Promise<number>;
  /**
   * Runs `work` while no other process of this database does the same; null when one does. The database gives the name back when
   * this process is gone.
   */
  alone<T>(name: string, work: () => Promise<T>): Promise<T | null>;
  close(): Promise<void>;
}

export interface Taken extends PlanAsk {
  readonly wanted: Wanted;
  done(): Promise<void>;
  /** It is tried again after a while, three times in all. */
  failed(error: unknown): Promise<void>;
}

const NAMES: Readonly<Record<Wanted, string>> = { plan: 'plans', better: 'better-plans' };
/** Longer than any plan takes: whoever began it and says nothing is gone, and another tries. */
const EXPIRE_SECONDS = 120;
const LOOK_FOR_EXPIRED_SECONDS = 15;
/** Kept for whoever wonders what was planned. */
const KEEP_HOURS = 12;
const TERMS = { retryLimit: 3, retryDelay: 2, retryBackoff: true, expireInSeconds: EXPIRE_SECONDS } as const;
/** Each is a connection while it is held: one for each plan that a process makes at once, and one to keep the shops up. */
const MOST_LOCKS = 65;
/** First of the two numbers of an advisory lock, so that nobody else's are met. */
const LOCK_CLASS = 7_063;

/**
 * The queue on PostgreSQL. Its policy "short" keeps one unbegun ask of a shop. That one plan at a time is made of a shop is left to an advisory lock
 * (`alone`): under the policies that promise it, a shop with a plan under way stands in the way of all that wait behind it.
 */
export async function openPlanningQueue(databaseUrl: string, logger?: StoreOptions['logger']): Promise<PlanningQueue> {
  const boss = new PgBoss({
    connectionString: databaseUrl,
    max: 4,
    schema: 'planning',
    maintenanceIntervalSeconds: LOOK_FOR_EXPIRED_SECONDS,
    schedule: false,
    archiveCompletedAfterSeconds: KEEP_HOURS * 3_600,
    deleteAfterHours: KEEP_HOURS,
  });
  boss.on('error', (err) => logger?.warn({ err }, 'the queue of plans met an error and goes on'));
  await boss.start();
  for (const name of Object.values(NAMES)) await boss.createQueue(name, { name, policy: 'short', ...TERMS });
  const locks = new pg.Pool({ connectionString: databaseUrl, max: MOST_LOCKS, keepAlive: true });
  locks.on('error', (err) => logger?.warn({ err }, 'a connection that holds a lock broke'));

  const next = async (wanted: Wanted): Promise<Taken | null> => {
    const [job] = await boss.fetch<PlanAsk>(NAMES[wanted]);
    if (job === undefined) return null;
    return {
      ...job.data,
      wanted,
      done: () => boss.complete(NAMES[wanted], job.id),
      failed: (error) => boss.fail(NAMES[wanted], job.id, { message: String(error) }),
    };
  };

  return {
    async ask(wanted, ask) {
      await boss.send(NAMES[wanted], ask, { singletonKey: ask.shopId, ...TERMS });
    },
    take: async () => (await next('plan')) ?? (await next('better')),
    waiting: (wanted) => boss.getQueueSize(NAMES[wanted], { before: 'active' }),
    async alone(name, work) {
      const client = await locks.connect();
      let broken: Error | undefined;
      // The lock went with it; who works on meanwhile may publish a plan only after the version it began from.
      const onBroken = (error: Error) => {
        broken = error;
      };
      client.on('error', onBroken);
      try {
        const held = await client.query<{ got: boolean }>(
          `SELECT pg_try_advisory_lock(${LOCK_CLASS}, hashtext($1)) AS got`,
          [name],
        );
        if (!held.rows[0]!.got) return null;
        try {
          return await work();
        } finally {
          await client.query(`SELECT pg_advisory_unlock(${LOCK_CLASS}, hashtext($1))`, [name]).catch(onBroken);
        }
      } finally {
        client.off('error', onBroken);
        client.release(broken);
      }
    },
    async close() {
      await boss.stop({ graceful: true, wait: true, timeout: 5_000 });
      await locks.end();
    },
  };
}
