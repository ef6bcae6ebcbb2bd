import type { Book, Releases } from '../../trade/formulate/book.ts';
import type { Formulation } from '../../trade/formulate/formulation.ts';
import { WAITS_AT_THE_DOOR_MINUTES } from '../../trade/formulate/job-terms.ts';
import type { JobId } from '../../trade/model/ids.ts';
import type { Plan } from '../../trade/model/plan.ts';
import { carName } from '../jobs/job-view.ts';
import type { ToRaise } from '../records/raise-exception.ts';
import { closedAround } from './closing-places.ts';

/** What of a formulation the desk should know; each piece of work once a day, for the sentence may carry minutes that grow. */
export function noticesForDesk(formulation: Formulation): ToRaise[] {
  const day = Math.floor(formulation.now / 86_400_000);
  return [
    ...formulation.notices.map((notice) => ({
      kind: kindOf(notice.kind),
      jobId: notice.jobId,
      cause: `${notice.kind} ${notice.operation ?? ''} ${day}`,
      text: notice.text,
    })),
    ...formulation.leftOut.map(({ jobId, field, reason }) => ({
      kind: 'planRejected' as const,
      jobId,
      cause: `${field} ${reason}`,
      text: `It could not be planned (${field}): ${reason}`,
    })),
  ];
}

function kindOf(notice: Formulation['notices'][number]['kind']): ToRaise['kind'] {
  if (notice === 'wishNotKept') return 'freezeReleased';
  return notice === 'notArrived' ? 'carMissing' : 'factAgainstRule';
}

/** The drop-off hours that a plan really moved after they had been released, the windows it was let off, and the cars it was made without. */
export function releasesForDesk(book: Book, plan: Plan, releases: Releases): ToRaise[] {
  const moved = book.jobs.filter((job) => {
    const planned = plan.jobs.find((each) => each.jobId === job.id);
    if (!releases.dropOffsOf?.has(job.id) || planned === undefined || job.dropOffAt === null) return false;
    // Whoever is late themselves, or waits a little at the door, need not be told.
    return job.dropOffAt >= book.now && planned.dropOffAt > job.dropOffAt + WAITS_AT_THE_DOOR_MINUTES * 60_000;
  });
  const windows = releases.windowsOf?.size ?? 0;
  const wishers = book.jobs.filter((job) => releases.wishesOf?.has(job.id) && (job.wishes?.length ?? 0) > 0);
  return [
    ...wishers.map((job) => ({
      kind: 'freezeReleased' as const,
      jobId: job.id,
      cause: `wishes ${job.wishes?.at(-1)?.madeAt}`,
      text: `${carName(job)}: no plan keeps what the desk decided for it; the work is planned without that.`,
    })),
    ...moved.map((job) => ({
      kind: 'freezeReleased' as const,
      jobId: job.id,
      cause: `drop-off ${job.dropOffAt}`,
      text: `${carName(job)}: no plan keeps the drop-off hour the customer was told. Tell the customer.`,
    })),
    ...(windows === 0
      ? []
      : [
          {
            kind: 'freezeReleased' as const,
            jobId: null,
            cause: `windows ${book.now}`,
            text: 'No plan keeps every window that runs on the floor; one without a remedy may lapse. The lead decides.',
          },
        ]),
    ...closedAround(book, plan, releases.closuresOf ?? new Set()),
    ...asideForDesk(book, releases.aside ?? new Set()),
  ];
}

/** Cars that no plan can hold; told again each day until somebody does something about it. */
function asideForDesk(book: Book, aside: ReadonlySet<JobId>): ToRaise[] {
  return book.jobs
    .filter((job) => aside.has(job.id))
    .map((job) => ({
      kind: 'planRejected' as const,
      jobId: job.id,
      cause: `set aside ${Math.floor(book.now / 86_400_000)}`,
      text:
        job.state === 'inShop'
          ? `${carName(job)}: no plan can hold it as things stand. It keeps its place; a person decides what is done.`
          : `${carName(job)}: no plan can hold it beside the others as things stand. Give it another hour, or tell the customer.`,
    }));
}
