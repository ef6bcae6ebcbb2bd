import type { Book } from '../../trade/formulate/book.ts';
import type { Job } from '../../trade/model/job.ts';
import { priceOf } from '../booking/draft-job.ts';
import { bookedPasses } from './booked-passes.ts';

/**
 * The job once the question of its scope is settled. A yes takes the revised scope; a no, and silence past the deadline,
 * never more than the booking assumed. The price follows the work.
 */
export function settledScope(job: Job, answer: 'approved' | 'declined' | 'defaulted', book: Book): Job {
  const scope = job.scope!;
  const passes = answer === 'approved' ? scope.correctionPasses : Math.min(scope.correctionPasses, bookedPasses(job));
  const settled: Job = { ...job, scope: { ...scope, correctionPasses: passes, answer } };
  const priceMinor = priceOf(settled, book);
  return { ...settled, priceMinor, scope: { ...settled.scope!, priceMinor } };
}
