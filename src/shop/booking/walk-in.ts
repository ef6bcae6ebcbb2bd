import type { PlaceId, ShopId } from '../../trade/model/ids.ts';
import type { ShopDeps } from '../deps.ts';
import type { JobView } from '../jobs/job-view.ts';
import type { BookingRequest } from './booking-request.ts';

/**
 * Takes a car that stands at the door now, if it fits today without moving a promise.
 * @throws Refused, NothingFits (with the nearest slot)
 */
export async function walkIn(
  deps: ShopDeps,
  input: { shopId: ShopId; request: BookingRequest; clientId: string; placeId: PlaceId | null },
): Promise<JobView> {
  throw new Error(`not written yet ${deps.seed} ${input.shopId}`);
}
