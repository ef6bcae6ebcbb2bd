import type { JobId, ShopId } from '../../trade/model/ids.ts';
import type { Job } from '../../trade/model/job.ts';
import type { ShopDeps } from '../deps.ts';
import { findJob } from '../jobs/find-job.ts';
import type { JobView } from '../jobs/job-view.ts';
import { withdrawJobs } from '../planning/withdraw-jobs.ts';
import { Invalid, WrongState } from '../problems/problems.ts';
import { jobToChange } from '../records/found.ts';

export interface CloseWithoutWork {
  readonly shopId: ShopId;
  readonly jobId: JobId;
  readonly expectedVersion: number;
  readonly note: string;
}

type CloseDeps = Pick<ShopDeps, 'store' | 'clock' | 'replanner'>;

/** Cancels a held or booked job; its slot is free at once. @throws NotFound, Stale, WrongState, Invalid (note) */
export async function cancel(deps: CloseDeps, input: CloseWithoutWork): Promise<JobView> {
  const job = await jobToChange(deps.store, input, ['held', 'booked']);
  return close(deps, input, { ...job, state: 'cancelled' });
}

/** The car never came: allowed once its drop-off hour has passed. @throws NotFound, Stale, WrongState, Invalid (note) */
export async function noShow(deps: CloseDeps, input: CloseWithoutWork): Promise<JobView> {
  const job = await jobToChange(deps.store, input, ['booked']);
  if (job.dropOffAt === null || job.dropOffAt > deps.clock()) {
    throw new WrongState('Its drop-off hour has not passed yet.', 'dropOffAt');
  }
  return close(deps, input, { ...job, state: 'noShow' });
}

async function close(deps: CloseDeps, input: CloseWithoutWork, closed: Job): Promise<JobView> {
  const { shopId, jobId, expectedVersion, note } = input;
  const notes = [closed.notes, note.trim()].filter((part) => part !== '').join('\n');
  if (notes.length > 2000) throw new Invalid('The notes of a job have at most 2000 characters together.', 'note');
  const job = { ...closed, notes, holdUntil: null };
  const reason = closed.state === 'noShow' ? 'no-show' : 'cancelled';
  await withdrawJobs(deps, { shopId, reason, closed: [{ job, expectedVersion }] });
  // What is left may now fit better.
  deps.replanner.ask(shopId, reason);
  return findJob(deps, { shopId, jobId });
}
