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
/** Units of search: as many as fit into a telephone call. */
const MOST_WORK = 60_000;
/** Pickups tried: with a promise the car waits for its owner, which may make it ready at another time. */
const MOST_PICKUPS = 2;

/**
 * The soonest a car could come and go if others gave way to it, when that brings its pickup at least half a day before the one
 * it could have without; null when nobody's giving way does. Nothing told to any customer changes, and no promise becomes
 * less sure than the shop promises.
 */
export function soonestMovingOthers(resident: ResidentBook, job: Job, otherwise: Instant): InsertedMoving | null {
  const latestPickup = (otherwise - WORTH_MS) as Instant;
  if (latestPickup <= job.earliestDropOff) return null;
  const free = moving(resident, job, job.earliestDropOff, latestPickup);
  if (free === null) return null;
  const { dropOffAt } = free.planned;
  let pickupAt = pickupFor({ ...free, book: resident.book }, job.id)?.pickupAt ?? null;
  for (let tries = 0; tries < MOST_PICKUPS && pickupAt !== null && pickupAt <= latestPickup; tries++) {
    const kept = keepMovingOthers(resident, { ...job, dropOffAt }, pickupAt);
    if (kept !== 'lessSure') return kept;
    pickupAt = (pickupAt + 60 * MINUTE) as Instant;
  }
  return null;
}

/** A car at its hour with exactly this pickup promised, for which others give way; null when that cannot be. */
export function keepMovingOthers(
  resident: ResidentBook,
  asked: Job & { readonly dropOffAt: Instant },
  pickupAt: Instant,
): InsertedMoving | 'lessSure' | null {
  const { book } = resident;
  const leastPercent = book.shop.promiseConfidencePercent;
  if (closedAt(book, asked, 'pickupAt', pickupAt) !== null) return null;
  const promise = { pickupAt, givenAt: book.now, confidencePercent: leastPercent };
  const kept = moving(resident, { ...asked, promise }, asked.dropOffAt, pickupAt);
  if (kept === null || kept.planned.lateMinutes > 0) return null;
  const sure = pickupOutlook({ ...kept, book }, asked.id)?.at(pickupAt);
  if (sure === undefined || sure.confidencePercent < leastPercent) return 'lessSure';
  if (!kept.gaveWay.every((each) => staysPromised(resident, kept, each))) return null;
  return { ...kept, job: { ...kept.job, promise: { ...promise, ...sure } } };
}

export function displacedBy({ gaveWay }: InsertedMoving): Displaced[] {
  return gaveWay.flatMap(({ before, after }) => displacement(after.job, before, after) ?? []);
}

function moving(resident: ResidentBook, job: Job, notBefore: Instant, latestPickup: Instant): InsertedMoving | null {
  const found = resident.insertMoving(job, { notBefore, latestPickup, mostWork: MOST_WORK, mayBeReadyAt: leavesHalf });
  return found === null || resident.checkAmongNeighbours(found).length > 0 ? null : found;
}

/** Whether a car that is ready later has half the time left that it had before its promise: only a first sieve. */
function leavesHalf({ job: { promise }, planned }: JobInPlan, readyAt: Instant): boolean {
  return promise === null || 2 * (promise.pickupAt - readyAt) >= promise.pickupAt - planned.readyAt;
}

/** Whether a car that gave way comes when told, is picked up no later, and is as sure as before or as the shop promises. */
function staysPromised(resident: ResidentBook, kept: InsertedMoving, { before, after }: GaveWay): boolean {
  const { job, planned } = after;
  if (job.dropOffAt !== null && planned.dropOffAt !== before.planned.dropOffAt) return false;
  if (planned.lateMinutes > before.planned.lateMinutes) return false;
  if (job.promise === null) return true;
  const { book, formulation, schedule } = resident;
  const { pickupAt } = job.promise;
  const sure = pickupOutlook({ ...kept, book }, job.id)?.at(pickupAt).confidencePercent ?? 0;
  if (sure >= book.shop.promiseConfidencePercent) return true;
  return sure >= (pickupOutlook({ book, formulation, schedule }, job.id)?.at(pickupAt).confidencePercent ?? 0);
}
