import type { Job } from '../../trade/model/job.ts';
import type { Instant } from '../../trade/model/time.ts';
import type { GaveWay, JobInPlan } from '../planning/make-way.ts';
import type { InsertedMoving, ResidentBook } from '../planning/resident-book.ts';
import { type Displaced, displacement } from './displaced.ts';
import { closedAt } from './opening.ts';
import { pickupFor, pickupOutlook } from './pickup-for.ts';

const MINUTE = 60_000;
/** Nobody is moved for less: a car is back at least so much sooner than without. */
const WORTH_MS = 12 * 60 * MINUTE;
/** Units of search, and ways that are judged by simulation: as many as fit into a telephone call. */
const MOST_WORK = 10_000;
const MOST_JUDGED = 3;

/** Asked between the parts of a search: false ends it with nothing. */
export type GoesOn = () => boolean;
const always: GoesOn = () => true;

/**
 * The soonest a car could come and go if others gave way to it, when it is then ready and promised at least half a day before
 * it would be otherwise; null when nobody's giving way does that, or `goesOn` says no before it is found. Nothing told to any
 * customer changes, and no promise becomes less sure than the shop promises.
 */
export function soonestMovingOthers(
  resident: ResidentBook,
  job: Job,
  otherwise: { readonly readyAt: Instant; readonly pickupAt: Instant },
  goesOn: GoesOn = always,
): InsertedMoving | null {
  const readyBy = (otherwise.readyAt - WORTH_MS) as Instant;
  if (readyBy <= job.earliestDropOff) return null;
  const free = moving(resident, job, job.earliestDropOff, readyBy, goesOn);
  const pickupAt = free && pickupFor({ ...free, book: resident.book }, job.id)?.pickupAt;
  if (free == null || pickupAt == null || pickupAt > otherwise.pickupAt - WORTH_MS) return null;
  return keepMovingOthers(resident, { ...job, dropOffAt: free.planned.dropOffAt }, pickupAt, goesOn);
}

/** A car at its hour with exactly this pickup promised, for which others give way; null when that cannot be. */
export function keepMovingOthers(
  resident: ResidentBook,
  asked: Job & { readonly dropOffAt: Instant },
  pickupAt: Instant,
  goesOn: GoesOn = always,
): InsertedMoving | null {
  const { book } = resident;
  const leastPercent = book.shop.promiseConfidencePercent;
  if (closedAt(book, asked, 'pickupAt', pickupAt) !== null) return null;
  const promise = { pickupAt, givenAt: book.now, confidencePercent: leastPercent };
  const kept = moving(resident, { ...asked, promise }, asked.dropOffAt, pickupAt, goesOn);
  if (kept === null || kept.planned.lateMinutes > 0) return null;
  const sure = pickupOutlook({ ...kept, book }, asked.id)?.at(pickupAt);
  if (sure === undefined || sure.confidencePercent < leastPercent) return null;
  return { ...kept, job: { ...kept.job, promise: { ...promise, ...sure } } };
}

export function displacedBy({ gaveWay }: InsertedMoving): Displaced[] {
  return gaveWay.flatMap(({ before, after }) => displacement(after.job, before, after) ?? []);
}

function moving(
  resident: ResidentBook,
  job: Job,
  notBefore: Instant,
  latestPickup: Instant,
  goesOn: GoesOn,
): InsertedMoving | null {
  let judged = 0;
  const accepts = (way: InsertedMoving): boolean => {
    if (judged++ >= MOST_JUDGED || !goesOn() || way.gaveWay.some(isToldOtherwise)) return false;
    if (resident.checkAmongNeighbours(way).length > 0) return false;
    return way.gaveWay.every((each) => goesOn() && staysSure(resident, way, each));
  };
  return resident.insertMoving(job, {
    notBefore,
    latestPickup,
    mostWork: MOST_WORK,
    goesOn,
    mayBeReadyAt: leavesHalf,
    accepts,
  });
}

/** Whether a car that is ready later has half the time left that it had before its promise: only a first sieve. */
function leavesHalf({ job: { promise }, planned }: JobInPlan, readyAt: Instant): boolean {
  return promise === null || 2 * (promise.pickupAt - readyAt) >= promise.pickupAt - planned.readyAt;
}

/** Whether a car that gave way would come or be fetched at another hour than its customer was told. */
function isToldOtherwise({ before, after }: GaveWay): boolean {
  const { job, planned } = after;
  if (job.dropOffAt !== null && planned.dropOffAt !== before.planned.dropOffAt) return true;
  return planned.lateMinutes > before.planned.lateMinutes;
}

/** Whether its promise is as sure as the shop promises, or at least as sure as before. */
function staysSure(resident: ResidentBook, way: InsertedMoving, { after: { job } }: GaveWay): boolean {
  if (job.promise === null) return true;
  const { book, formulation, schedule } = resident;
  const { pickupAt } = job.promise;
  const sure = pickupOutlook({ ...way, book }, job.id)?.at(pickupAt).confidencePercent ?? 0;
  if (sure >= book.shop.promiseConfidencePercent) return true;
  return sure >= (pickupOutlook({ book, formulation, schedule }, job.id)?.at(pickupAt).confidencePercent ?? 0);
}
