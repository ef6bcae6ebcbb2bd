import type { JobId, ShopId } from '../../trade/model/ids.ts';
import type { Job } from '../../trade/model/job.ts';
import type { PlanningDeps } from '../deps.ts';
import { findJob } from '../jobs/find-job.ts';
import type { JobView } from '../jobs/job-view.ts';
import { isLive, loadBook } from '../planning/load-book.ts';
import { WrongState } from '../problems/problems.ts';
import { inShopTerms } from '../problems/store-refusals.ts';
import { jobToChange } from '../records/found.ts';
import { tell } from '../records/tell.ts';
import { mustBeAnswered, mustBeBookable } from './draft-job.ts';

/** Turns a hold into a booking; what was promised with the hold stands. @throws NotFound, Stale, WrongState (lapsed or not held), Refused */
export async function confirm(
  deps: Pick<PlanningDeps, 'store' | 'clock'>,
  input: { shopId: ShopId; jobId: JobId; expectedVersion: number },
): Promise<JobView> {
  const { shopId, jobId } = input;
  const now = deps.clock();
  const book = await loadBook(deps.store, shopId, now);
  await inShopTerms(() =>
    deps.store.transaction(shopId, async (records) => {
      const held = await jobToChange(records, input, ['held']);
      if (!isLive(held, now)) throw new WrongState('Its hold has run out; quote again.', 'holdUntil');
      mustBeAnswered(mustBeBookable(held, book));
      const promise = held.promise === null ? null : { ...held.promise, givenAt: now };
      const job: Job = { ...held, state: 'booked', holdUntil: null, promise };
      await records.jobs.put(shopId, job, input.expectedVersion);
      await tell(records, shopId, now, 'job.changed', jobId, { state: 'booked' });
    }),
  );
  return findJob(deps, { shopId, jobId });
}
