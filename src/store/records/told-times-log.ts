import { ToldTimes } from '../../trade/model/customer-message.ts';
import type { JobId, ShopId } from '../../trade/model/ids.ts';
import type { ToldTimesLog } from '../contract/told-times.ts';
import type { CustomerToldModel } from '../generated/sqlite/models.ts';
import { checkDocument } from './document.ts';
import { checkReferences } from './reference.ts';
import type { Session } from './session.ts';

/** Drop-offs and pickups as they were told, numbered within their job. */
export class ToldTimesRecord implements ToldTimesLog {
  readonly #session: Session;

  constructor(session: Session) {
    this.#session = session;
  }

  async append(shopId: ShopId, told: Omit<ToldTimes, 'number'>): Promise<ToldTimes> {
    const { jobId, dropOffAt, pickupAt, toldAt } = told;
    return this.#session.write(shopId, { what: 'aside' }, async (transaction) => {
      await checkReferences(transaction, shopId, [{ field: 'jobId', table: 'job', id: jobId }]);
      const last = await transaction.customerTold.findFirst({
        where: { shopId, jobId },
        orderBy: { number: 'desc' },
        select: { number: true },
      });
      const number = (last?.number ?? 0) + 1;
      await transaction.customerTold.create({
        data: { shopId, jobId, number, dropOffAt: big(dropOffAt), pickupAt: big(pickupAt), toldAt: BigInt(toldAt) },
      });
      return { ...told, number };
    });
  }

  async list(shopId: ShopId, jobId: JobId): Promise<ToldTimes[]> {
    const rows = await this.#session.reader.customerTold.findMany({
      where: { shopId, jobId },
      orderBy: { number: 'asc' },
    });
    return rows.map(read);
  }

  async latest(shopId: ShopId, jobId: JobId): Promise<ToldTimes | null> {
    const row = await this.#session.reader.customerTold.findFirst({
      where: { shopId, jobId },
      orderBy: { number: 'desc' },
    });
    return row === null ? null : read(row);
  }
}

function big(instant: number | null): bigint | null {
  return instant === null ? null : BigInt(instant);
}

function read(row: CustomerToldModel): ToldTimes {
  const { jobId, number, dropOffAt, pickupAt, toldAt } = row;
  const told = {
    jobId,
    number,
    dropOffAt: dropOffAt === null ? null : Number(dropOffAt),
    pickupAt: pickupAt === null ? null : Number(pickupAt),
    toldAt: Number(toldAt),
  };
  return checkDocument(ToldTimes, told, `told times ${row.shopId}/${jobId}/${number}`);
}
