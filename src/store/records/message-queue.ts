import { QueuedMessage } from '../../trade/model/customer-message.ts';
import type { JobId, ShopId } from '../../trade/model/ids.ts';
import type { Instant } from '../../trade/model/time.ts';
import type { AttemptOutcome, MessageKey, Messages } from '../contract/messages.ts';
import type { CustomerMessageModel } from '../generated/sqlite/models.ts';
import { checkDocument } from './document.ts';
import { checkReferences } from './reference.ts';
import type { Session } from './session.ts';

const LONGEST_FAULT = 500;

/** E-mail to customers, queued and claimed. */
export class MessageQueue implements Messages {
  readonly #session: Session;

  constructor(session: Session) {
    this.#session = session;
  }

  async queue(
    shopId: ShopId,
    message: MessageKey & { readonly queuedAt: Instant; readonly dueAt: Instant },
  ): Promise<boolean> {
    const { jobId, kind, occasion, queuedAt, dueAt } = message;
    return this.#session.write(shopId, { what: 'aside' }, async (transaction) => {
      await checkReferences(transaction, shopId, [{ field: 'jobId', table: 'job', id: jobId }]);
      // A plain insert that loses to another would end the transaction on PostgreSQL.
      const inserted = await transaction.$executeRaw`
        INSERT INTO "CustomerMessage"
          ("shopId", "jobId", "kind", "occasion", "state", "attempts", "queuedAt", "dueAt", "changedAt", "fault")
        VALUES (${shopId}, ${jobId}, ${kind}, ${occasion}, 'queued', 0,
          ${BigInt(queuedAt)}, ${BigInt(dueAt)}, ${BigInt(queuedAt)}, '')
        ON CONFLICT DO NOTHING`;
      return inserted === 1;
    });
  }

  async get(shopId: ShopId, key: MessageKey): Promise<QueuedMessage | null> {
    const row = await this.#session.reader.customerMessage.findFirst({ where: whereKey(shopId, key) });
    return row === null ? null : read(row);
  }

  async listByJob(shopId: ShopId, jobId: JobId): Promise<QueuedMessage[]> {
    const rows = await this.#session.reader.customerMessage.findMany({
      where: { shopId, jobId },
      orderBy: [{ queuedAt: 'asc' }, { kind: 'asc' }, { occasion: 'asc' }],
    });
    return rows.map(read);
  }

  async due(shopId: ShopId, now: Instant, limit: number): Promise<QueuedMessage[]> {
    const rows = await this.#session.reader.customerMessage.findMany({
      where: { shopId, state: 'queued', dueAt: { lte: BigInt(now) } },
      orderBy: [{ dueAt: 'asc' }, { jobId: 'asc' }, { kind: 'asc' }],
      take: limit,
    });
    return rows.map(read);
  }

  async claim(shopId: ShopId, key: MessageKey, claim: string, now: Instant): Promise<boolean> {
    return this.#session.write(shopId, { what: 'aside' }, async (transaction) => {
      const { count } = await transaction.customerMessage.updateMany({
        where: { ...whereKey(shopId, key), state: 'queued', dueAt: { lte: BigInt(now) } },
        data: { state: 'sending', claim, changedAt: BigInt(now), attempts: { increment: 1 } },
      });
      return count === 1;
    });
  }

  async settle(shopId: ShopId, key: MessageKey, claim: string, outcome: AttemptOutcome): Promise<boolean> {
    return this.#session.write(shopId, { what: 'aside' }, async (transaction) => {
      const { count } = await transaction.customerMessage.updateMany({
        where: { ...whereKey(shopId, key), state: 'sending', claim },
        data: {
          state: outcome.state,
          claim: null,
          changedAt: BigInt(outcome.at),
          fault: outcome.fault.slice(0, LONGEST_FAULT),
          ...(outcome.dueAt === undefined ? {} : { dueAt: BigInt(outcome.dueAt) }),
        },
      });
      return count === 1;
    });
  }

  async overdue(shopId: ShopId, claimedBefore: Instant): Promise<QueuedMessage[]> {
    const rows = await this.#session.reader.customerMessage.findMany({ where: whereOverdue(shopId, claimedBefore) });
    return rows.map(read);
  }

  async giveUpClaims(shopId: ShopId, claimedBefore: Instant, at: Instant, fault: string): Promise<QueuedMessage[]> {
    return this.#session.write(shopId, { what: 'aside' }, async (transaction) => {
      const where = whereOverdue(shopId, claimedBefore);
      const rows = await transaction.customerMessage.findMany({ where });
      if (rows.length === 0) return [];
      const data = { state: 'unknown', claim: null, changedAt: BigInt(at), fault };
      await transaction.customerMessage.updateMany({ where, data });
      return rows.map((row) => read({ ...row, ...data }));
    });
  }
}

function whereKey(shopId: ShopId, { jobId, kind, occasion }: MessageKey) {
  return { shopId, jobId, kind, occasion };
}

function whereOverdue(shopId: ShopId, claimedBefore: Instant) {
  return { shopId, state: 'sending', changedAt: { lt: BigInt(claimedBefore) } };
}

function read(row: CustomerMessageModel): QueuedMessage {
  const numbers = { queuedAt: Number(row.queuedAt), dueAt: Number(row.dueAt), changedAt: Number(row.changedAt) };
  return checkDocument(
    QueuedMessage,
    { ...row, ...numbers },
    `message ${row.shopId}/${row.jobId}/${row.kind}/${row.occasion}`,
  );
}
