import type { ToldTimes } from '../../trade/model/customer-message.ts';
import type { JobId, ShopId } from '../../trade/model/ids.ts';

/** Which drop-off and pickup a customer was told, and when. Append-only. */
export interface ToldTimesLog {
  /** Gives the next number of the job. @throws UnknownReference (job) */
  append(shopId: ShopId, told: Omit<ToldTimes, 'number'>): Promise<ToldTimes>;
  /** In the order they were told. */
  list(shopId: ShopId, jobId: JobId): Promise<ToldTimes[]>;
  latest(shopId: ShopId, jobId: JobId): Promise<ToldTimes | null>;
}
