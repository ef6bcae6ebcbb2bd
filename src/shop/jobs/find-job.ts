import type { JobId, ShopId } from '../../trade/model/ids.ts';
import type { ShopDeps } from '../deps.ts';
import { foundJob } from '../records/found.ts';
import { type JobView, jobView } from './job-view.ts';

/** A job with its place in the current plan. @throws NotFound */
export async function findJob(
  deps: Pick<ShopDeps, 'store'>,
  input: { shopId: ShopId; jobId: JobId },
): Promise<JobView> {
  const { value } = await foundJob(deps.store, input.shopId, input.jobId);
  return jobView(value, await deps.store.plans.current(input.shopId));
}
