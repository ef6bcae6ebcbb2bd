import type { Book } from '../../trade/formulate/book.ts';
import type { Job } from '../../trade/model/job.ts';
import type { PlanningDeps } from '../deps.ts';
import { withLessons } from '../promises/floor-lessons.ts';
import type { Nearest } from './nearest.ts';
import { pickupFor } from './pickup-for.ts';
import { isPlaced, type Placed, placeJob } from './place-job.ts';
import { standingBook } from './standing-book.ts';

/** Days looked ahead when the usual weeks are full. */
const FAR_DAYS = 84;

/** The slot of a job placed without an hour told to the customer; null when no pickup can be promised within the hours known. */
export function slotOf({ draft, planned }: Placed): Nearest | null {
  const pickup = pickupFor(draft, planned.jobId);
  if (pickup === null) return null;
  const { pickupAt, confidencePercent } = pickup;
  return { dropOffAt: planned.dropOffAt, readyAt: planned.readyAt, pickupAt, confidencePercent };
}

/**
 * The first slot at or after the job's earliest drop-off that would hold it: from the open book, and where that cannot tell
 * by planning the whole, further ahead than usual.
 */
export async function nearestSlot(deps: PlanningDeps, book: Book, job: Job): Promise<Nearest | null> {
  const free: Job = { ...job, dropOffAt: null, promise: null };
  const known = await nearestInOpenBook(deps, book, free);
  if (known !== 'cannotTell') return known;
  const taught = await withLessons(deps.store, book);
  for (const horizonDays of [book.horizonDays, FAR_DAYS]) {
    const placed = await placeJob(deps, { ...taught, horizonDays }, free);
    const slot = isPlaced(placed) ? slotOf(placed) : null;
    if (slot !== null) return slot;
  }
  return null;
}

/** Null: the open book has none. */
async function nearestInOpenBook(deps: PlanningDeps, book: Book, job: Job): Promise<Nearest | null | 'cannotTell'> {
  if (deps.desk === undefined || book.jobs.some(({ id }) => id === job.id)) return 'cannotTell';
  const standing = await standingBook(deps.store, book.shop.id, deps.clock());
  const answer = await deps.desk.ask(standing, { kind: 'nearest', job });
  if (answer.kind === 'noPlace') return null;
  if (answer.kind !== 'slots') return 'cannotTell';
  const { dropOffAt, readyAt, pickupAt, confidencePercent } = answer.slots[0]!;
  return { dropOffAt, readyAt, pickupAt, confidencePercent };
}
