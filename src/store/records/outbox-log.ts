import type { ShopId } from '../../trade/model/ids.ts';
import { Instant } from '../../trade/model/time.ts';
import type { NumberedEvent, Outbox, OutboxEvent } from '../contract/outbox.ts';
import { parseJson } from './document.ts';

import type { Session } from './session.ts';

const DEFAULT_LIMIT = 500;

/** Events for listeners. */
export class OutboxLog implements Outbox {
  readonly #session: Session;

  constructor(session: Session) {
    this.#session = session;
  }

  async append(shopId: ShopId, event: OutboxEvent): Promise<void> {
    await this.#session.write(shopId, { what: 'aside' }, async (transaction) =>
      this.#session.gathered(transaction).tell(shopId, event),
    );
  }

  async listAfter(shopId: ShopId, sequence: number, limit = DEFAULT_LIMIT): Promise<NumberedEvent[]> {
    const rows = await this.#session.reader.outboxEvent.findMany({
      where: { shopId, sequence: { gt: sequence } },
      orderBy: { sequence: 'asc' },
      take: limit,
    });
    return rows.map((row) => ({
      sequence: row.sequence,
      kind: row.kind,
      subject: row.subject,
      at: Instant.parse(Number(row.at)),
      body: parseJson(row.body, `outbox event ${shopId}/${row.sequence}`),
    }));
  }

  async lastSequence(shopId: ShopId): Promise<number> {
    const shop = await this.#session.reader.shop.findUnique({
      where: { id: shopId },
      select: { outboxSequence: true },
    });
    return shop?.outboxSequence ?? 0;
  }

  async shopsWithNewsSincePlan(): Promise<ShopId[]> {
    const rows = await this.#session.reader.$queryRaw<{ shopId: string }[]>`
      SELECT "shopId" FROM "OutboxEvent" GROUP BY "shopId"
      HAVING max("sequence") > coalesce(max(CASE WHEN "kind" = 'plan.published' THEN "sequence" END), 0)`;
    return rows.map(({ shopId }) => shopId as ShopId);
  }

  async purge(shopId: ShopId, before: Instant): Promise<number> {
    return this.#session.write(shopId, { what: 'aside' }, async (transaction) => {
      const { count } = await transaction.outboxEvent.deleteMany({ where: { shopId, at: { lt: BigInt(before) } } });
      return count;
    });
  }
}
