import type { AirZoneId, ShopId } from '../../trade/model/ids.ts';
import { ConditionsReading } from '../../trade/model/readings.ts';
import type { Instant } from '../../trade/model/time.ts';
import type { Readings, Stretch } from '../contract/floor.ts';
import type { ReadingModel } from '../generated/sqlite/models.ts';
import { checkDocument, readDocument } from './document.ts';
import { checkReferences, checkShop } from './reference.ts';
import type { Session } from './session.ts';

type Source = ConditionsReading['source'];

/** Readings of air and panels, numbered in the order they came. */
export class ReadingLog implements Readings {
  readonly #session: Session;

  constructor(session: Session) {
    this.#session = session;
  }

  async append(shopId: ShopId, reading: ConditionsReading): Promise<void> {
    const checked = checkDocument(ConditionsReading, reading, `reading ${shopId}/${reading.airZoneId}`);
    await this.#session.write(shopId, { what: 'readings' }, async (transaction) => {
      const { airZoneId, jobId, at, source } = checked;
      await checkShop(transaction, shopId);
      await checkReferences(transaction, shopId, [
        { field: 'airZoneId', table: 'airZone', id: airZoneId },
        ...(jobId === null ? [] : [{ field: 'jobId', table: 'job' as const, id: jobId }]),
      ]);
      const { readingNumber } = await transaction.shop.update({
        where: { id: shopId },
        data: { readingNumber: { increment: 1 } },
        select: { readingNumber: true },
      });
      await transaction.reading.create({
        data: {
          shopId,
          number: readingNumber,
          airZoneId,
          jobId,
          at: BigInt(at),
          source,
          document: JSON.stringify(checked),
        },
      });
    });
  }

  async list(
    shopId: ShopId,
    filter: Stretch & { airZoneId?: AirZoneId; source?: Source },
  ): Promise<ConditionsReading[]> {
    const rows = await this.#session.reader.reading.findMany({
      where: {
        shopId,
        at: { gte: BigInt(filter.from), lt: BigInt(filter.to) },
        ...narrowed(filter.airZoneId, filter.source),
      },
      orderBy: [{ at: 'asc' }, { number: 'asc' }],
    });
    return rows.map(read);
  }

  async latest(shopId: ShopId, airZoneId: AirZoneId, at: Instant, source?: Source): Promise<ConditionsReading | null> {
    const row = await this.#session.reader.reading.findFirst({
      where: { shopId, at: { lte: BigInt(at) }, ...narrowed(airZoneId, source) },
      orderBy: [{ at: 'desc' }, { number: 'desc' }],
    });
    return row === null ? null : read(row);
  }
}

function narrowed(airZoneId?: AirZoneId, source?: Source): { airZoneId?: string; source?: string } {
  return { ...(airZoneId === undefined ? {} : { airZoneId }), ...(source === undefined ? {} : { source }) };
}

function read(row: ReadingModel): ConditionsReading {
  return readDocument(ConditionsReading, row.document, `reading ${row.shopId}/${row.number}`);
}
