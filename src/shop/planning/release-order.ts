import type { Book, Releases } from '../../trade/formulate/book.ts';
import type { JobId } from '../../trade/model/ids.ts';

/** One step further in giving up what was decided, and how to tell the desk of it. */
export interface ReleaseStep {
  readonly releases: Releases;
  readonly text: string | null;
}

export const NOTHING_RELEASED: ReleaseStep = { releases: {}, text: null };

/**
 * The order in which decisions are given up when no plan keeps all of them: nothing; the drop-off hours of holds, which
 * nobody has bought; the drop-off hours of booked cars, least priority first; windows that run on the floor and have no
 * remedy. Promised pickups are never in this list: a plan may break one, and then it is listed.
 */
export function releaseOrder(book: Book): readonly ReleaseStep[] {
  const steps: ReleaseStep[] = [NOTHING_RELEASED];
  const dropOffsOf = new Set<JobId>();
  const give = (jobs: readonly JobId[], text: string) => {
    if (jobs.length === 0) return;
    for (const job of jobs) dropOffsOf.add(job);
    steps.push({ releases: { dropOffsOf: new Set(dropOffsOf) }, text });
  };
  const waiting = book.jobs.filter((job) => job.dropOffAt !== null && job.state !== 'inShop');
  give(
    waiting.filter((job) => job.state === 'held').map((job) => job.id),
    'the drop-off hours of held slots',
  );
  const booked = waiting.filter((job) => job.state === 'booked');
  give(
    booked.filter((job) => job.priority === 1).map((job) => job.id),
    'the drop-off hours of booked cars of ordinary priority',
  );
  give(
    booked.filter((job) => job.priority > 1).map((job) => job.id),
    'the drop-off hours of all booked cars',
  );
  const windowsOf = new Set(book.jobs.filter((job) => job.state === 'inShop').map((job) => job.id));
  if (windowsOf.size > 0) {
    steps.push({ releases: { dropOffsOf, windowsOf }, text: 'windows that run on the floor and have no remedy' });
  }
  return steps;
}
