import type { JobId, ShopId } from '../../trade/model/ids.ts';
import type { ShopDeps } from '../deps.ts';
import type { JobView } from '../jobs/job-view.ts';
import type { BookingChange } from './booking-request.ts';

/**
 * Changes a booking and plans it anew; a promise that no longer fits is refused, not broken, and nothing is changed.
 * @throws NotFound, Stale, WrongState, Refused, NothingFits
 */
export async function change(
  deps: ShopDeps,
  input: { shopId: ShopId; jobId: JobId; expectedVersion: number; change: BookingChange },
): Promise<JobView> {
  throw new Error(`not written yet ${deps.seed} ${input.jobId}`);
}
