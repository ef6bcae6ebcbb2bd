import type { JobId, ShopId } from '../../trade/model/ids.ts';
import type { ShopDeps } from '../deps.ts';
import type { JobView } from '../jobs/job-view.ts';

/** The customer's answer to the revised scope. @throws NotFound, Stale, WrongState (no answer is awaited) */
export async function answerScope(
  deps: ShopDeps,
  input: { shopId: ShopId; jobId: JobId; expectedVersion: number; answer: 'approved' | 'declined' },
): Promise<JobView> {
  throw new Error(`not written yet ${deps.seed} ${input.shopId}`);
}
