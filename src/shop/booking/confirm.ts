import type { JobId, ShopId } from '../../trade/model/ids.ts';
import type { ShopDeps } from '../deps.ts';
import type { JobView } from '../jobs/job-view.ts';

/** Turns a hold into a booking with a promise. @throws NotFound, Stale, WrongState (lapsed or not held) */
export async function confirm(
  deps: ShopDeps,
  input: { shopId: ShopId; jobId: JobId; expectedVersion: number },
): Promise<JobView> {
  throw new Error(`not written yet ${deps.seed} ${input.jobId}`);
}
