import type { ShopId } from '../../trade/model/ids.ts';
import type { Instant } from '../../trade/model/time.ts';
import type { ShopDeps } from '../deps.ts';
import type { JobView } from '../jobs/job-view.ts';
import type { BookingRequest } from './booking-request.ts';

/** Books a choice at once, without a hold before. Throws as `hold` does. */
export async function book(
  deps: ShopDeps,
  input: { shopId: ShopId; request: BookingRequest; dropOffAt: Instant; pickupAt: Instant | null; depositNote: string },
): Promise<JobView> {
  throw new Error(`not written yet ${deps.seed} ${input.shopId}`);
}
