import type { JobId, ShopId } from '../../trade/model/ids.ts';
import type { FloorEvent } from '../../trade/model/job.ts';
import type { ShopDeps } from '../deps.ts';
import { foundJob } from '../records/found.ts';

/** What has happened to a car, in the order it was recorded; `after` leaves out what a device has already. @throws NotFound */
export async function floorHistory(
  deps: Pick<ShopDeps, 'store'>,
  input: { readonly shopId: ShopId; readonly jobId: JobId; readonly after: number },
): Promise<readonly FloorEvent[]> {
  await foundJob(deps.store, input.shopId, input.jobId);
  return deps.store.floorEvents.listByJob(input.shopId, input.jobId, input.after);
}
