import type { ShopId } from '../../trade/model/ids.ts';
import type { Instant } from '../../trade/model/time.ts';
import type { PlanningDeps } from '../deps.ts';
import type { JobView } from '../jobs/job-view.ts';
import type { BookingRequest } from './booking-request.ts';
import { sell } from './sell.ts';

/** Books a choice at once, without a hold before. Throws as `hold` does. */
export async function book(
  deps: PlanningDeps,
  input: { shopId: ShopId; request: BookingRequest; dropOffAt: Instant; pickupAt: Instant | null; depositNote: string },
): Promise<JobView> {
  return sell(deps, { ...input, state: 'booked', holdUntil: null });
}
