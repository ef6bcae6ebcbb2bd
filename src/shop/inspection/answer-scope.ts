import type { JobId, ShopId } from '../../trade/model/ids.ts';
import type { ShopDeps } from '../deps.ts';
import { findJob } from '../jobs/find-job.ts';
import type { JobView } from '../jobs/job-view.ts';
import { loadBook } from '../planning/load-book.ts';
import { WrongState } from '../problems/problems.ts';
import { inShopTerms } from '../problems/store-refusals.ts';
import { jobToChange } from '../records/found.ts';
import { tell } from '../records/tell.ts';
import { settledScope } from './settle-scope.ts';

/** The customer's answer to the revised scope. @throws NotFound, Stale, WrongState (no answer is awaited) */
export async function answerScope(
  deps: Pick<ShopDeps, 'store' | 'clock' | 'replanner'>,
  input: { shopId: ShopId; jobId: JobId; expectedVersion: number; answer: 'approved' | 'declined' },
): Promise<JobView> {
  const { shopId, jobId, answer } = input;
  const now = deps.clock();
  const book = await loadBook(deps.store, shopId, now);
  await inShopTerms(() =>
    deps.store.transaction(shopId, async (records) => {
      const job = await jobToChange(records, input, ['inShop']);
      if (job.scope?.answer !== 'awaited') throw new WrongState('No answer is awaited.', 'answer');
      const settled = settledScope(job, answer, book);
      await records.jobs.put(shopId, settled, input.expectedVersion);
      await tell(records, shopId, now, 'scope.answered', jobId, { answer, priceMinor: settled.priceMinor });
    }),
  );
  deps.replanner.ask(shopId, `scope ${answer}`);
  return findJob(deps, { shopId, jobId });
}
