import { z } from 'zod';
import { Instant } from '../../trade/model/time.ts';
import { NotFound } from '../contract/errors.ts';
import type { Replies, Reply, RequestKey, RequestRecord } from '../contract/replies.ts';
import type { RequestReplyModel } from '../generated/sqlite/models.ts';
import { readDocument } from './document.ts';
import type { Session } from './session.ts';

const KEPT_MS = 7 * 24 * 60 * 60_000;
/** Longer than any request takes: who claimed the key and still has no reply is gone. */
const CLAIM_MS = 60_000;

const Headers = z.record(z.string(), z.string());

/** Replies by idempotency key. */
export class ReplyLog implements Replies {
  readonly #session: Session;

  constructor(session: Session) {
    this.#session = session;
  }

  async begin(
    key: RequestKey,
    bodyHash: string,
    now: Instant,
  ): Promise<{ claimed: true } | { claimed: false; found: RequestRecord }> {
    return this.#session.write('', { what: 'aside' }, async (transaction) => {
      const where = whereKey(key);
      for (;;) {
        // A plain insert that loses to another would end the transaction on PostgreSQL. What is older than it is kept is no more.
        const inserted = await transaction.$executeRaw`
          INSERT INTO "RequestReply" ("shopId", "principal", "route", "key", "bodyHash", "state", "createdAt")
          VALUES (${key.shopId}, ${key.principal}, ${key.route}, ${key.key}, ${bodyHash}, 'inFlight', ${BigInt(now)})
          ON CONFLICT ("shopId", "principal", "route", "key") DO UPDATE
          SET "bodyHash" = excluded."bodyHash", "state" = excluded."state", "createdAt" = excluded."createdAt",
            "status" = NULL, "headers" = NULL, "body" = NULL
          WHERE "RequestReply"."createdAt" < ${BigInt(now - KEPT_MS)}`;
        if (inserted === 1) return { claimed: true };
        const reclaimed = await transaction.requestReply.updateMany({
          where: { ...where, bodyHash, state: 'inFlight', createdAt: { lt: BigInt(now - CLAIM_MS) } },
          data: { createdAt: BigInt(now) },
        });
        if (reclaimed.count === 1) return { claimed: true };
        const row = await transaction.requestReply.findFirst({ where });
        // Gone when its owner abandoned it in between; then the key is free.
        if (row !== null) return { claimed: false, found: read(row) };
      }
    });
  }

  async complete(key: RequestKey, reply: Reply): Promise<void> {
    await this.#session.write('', { what: 'aside' }, async (transaction) => {
      const { count } = await transaction.requestReply.updateMany({
        where: { ...whereKey(key), state: 'inFlight' },
        data: { state: 'done', status: reply.status, headers: JSON.stringify(reply.headers), body: reply.body },
      });
      if (count === 0) throw new NotFound('request', key.key);
    });
  }

  async abandon(key: RequestKey): Promise<void> {
    await this.#session.write('', { what: 'aside' }, async (transaction) => {
      await transaction.requestReply.deleteMany({ where: { ...whereKey(key), state: 'inFlight' } });
    });
  }

  async purge(now: Instant): Promise<number> {
    return this.#session.write('', { what: 'aside' }, async (transaction) => {
      const { count } = await transaction.requestReply.deleteMany({
        where: { createdAt: { lt: BigInt(now - KEPT_MS) } },
      });
      return count;
    });
  }
}

function whereKey({ shopId, principal, route, key }: RequestKey) {
  return { shopId, principal, route, key };
}

function read(row: RequestReplyModel): RequestRecord {
  const reply: Reply | null =
    row.status === null
      ? null
      : {
          status: row.status,
          headers: readDocument(Headers, row.headers ?? '{}', `request ${row.shopId}/${row.route}/${row.key}`),
          body: row.body ?? '',
        };
  return {
    bodyHash: row.bodyHash,
    state: row.state === 'done' ? 'done' : 'inFlight',
    reply,
    createdAt: Instant.parse(Number(row.createdAt)),
  };
}
