import type { Records } from '../../store/store.ts';
import type { ToldTimes } from '../../trade/model/customer-message.ts';
import type { ShopId } from '../../trade/model/ids.ts';
import type { Job } from '../../trade/model/job.ts';
import type { Instant } from '../../trade/model/time.ts';

/**
 * Notes which drop-off and pickup a customer has now been told, when they are others than before; returns the new note or
 * null. What is only held has not been told for good.
 */
export async function noteToldTimes(
  records: Records,
  shopId: ShopId,
  job: Job,
  toldAt: Instant,
): Promise<ToldTimes | null> {
  if (job.state !== 'booked' && job.state !== 'inShop') return null;
  const { dropOffAt } = job;
  const pickupAt = job.promise?.pickupAt ?? null;
  if (dropOffAt === null && pickupAt === null) return null;
  const last = await records.toldTimes.latest(shopId, job.id);
  if (last !== null && last.dropOffAt === dropOffAt && last.pickupAt === pickupAt) return null;
  return records.toldTimes.append(shopId, { jobId: job.id, dropOffAt, pickupAt, toldAt });
}
