import type { JobId, ShopId } from '../../trade/model/ids.ts';
import type { ShopDeps } from '../deps.ts';
import type { JobView } from './job-view.ts';

/** A job with its place in the current plan. @throws NotFound */
export async function findJob(deps: ShopDeps, input: { shopId: ShopId; jobId: JobId }): Promise<JobView> {
  throw new Error(`not written yet ${deps.seed} ${input.jobId}`);
}
