import { DateTime } from 'luxon';
import type { Book } from '../../trade/formulate/book.ts';
import type { Job } from '../../trade/model/job.ts';
import type { Instant } from '../../trade/model/time.ts';
import type { PlanningDeps } from '../deps.ts';
import { Refused } from '../problems/problems.ts';
import { withLessons } from '../promises/floor-lessons.ts';
import { closedAt } from './opening.ts';
import { onTheQuarter, pickupOutlook } from './pickup-for.ts';
import { isPlaced, type Placed, placeJob, type Unplaced } from './place-job.ts';

/** A job in a plan that keeps the promise made with it. */
export interface PlacedWithPromise extends Placed {
  readonly job: Job;
}

/**
 * Plans a car at its hour, finds its pickup or judges the one asked for, and plans it again with the promise: the car then
 * keeps its place until its owner comes.
 * @throws Refused when the pickup asked for is less sure than the shop promises; PlanRejected; Busy
 */
export async function placeWithPromise(
  deps: PlanningDeps,
  untaught: Book,
  asked: Job,
  wantedPickupAt: Instant | null,
): Promise<PlacedWithPromise | Unplaced> {
  const book = await withLessons(deps.store, untaught);
  const first = await placeJob(deps, book, { ...asked, promise: null });
  if (!isPlaced(first)) return first;
  const outlook = pickupOutlook(first.draft, asked.id);
  const soonest = outlook?.earliest?.pickupAt ?? null;
  const pickupAt = wantedPickupAt ?? soonest;
  if (outlook === null || pickupAt === null) return { reasons: [] };
  const closed = closedAt(book, asked, 'pickupAt', pickupAt);
  if (closed !== null) return { reasons: [closed] };
  const hoped = outlook.at(pickupAt);
  if (hoped.confidencePercent < book.shop.promiseConfidencePercent)
    refuseUnsure(book, hoped.confidencePercent, soonest);
  const job: Job = { ...asked, promise: { ...hoped, givenAt: book.now } };
  const placed = await placeJob(deps, book, job);
  if (!isPlaced(placed)) return placed;
  if (placed.planned.lateMinutes === 0) {
    // Waiting for its owner may have made the car ready at another time: the promise says what holds of this plan.
    const now = pickupOutlook(placed.draft, asked.id);
    const sure = now?.at(pickupAt) ?? hoped;
    const later = now?.earliest?.pickupAt ?? null;
    if (sure.confidencePercent >= book.shop.promiseConfidencePercent)
      return { ...placed, job: { ...job, promise: { ...sure, givenAt: book.now } } };
    if (wantedPickupAt !== null || later === null || later <= pickupAt)
      refuseUnsure(book, sure.confidencePercent, later);
    return placeWithPromise(deps, book, asked, later);
  }
  // Nobody is free to hand it over then: whoever left the hour to the shop is told a later one.
  const handed = onTheQuarter(placed.planned.pickupAt);
  if (wantedPickupAt === null && closedAt(book, asked, 'pickupAt', handed) === null) {
    return placeWithPromise(deps, book, asked, handed);
  }
  const text = `It would be ${placed.planned.lateMinutes} minutes after its promise.`;
  return { reasons: [{ rule: 'promise', field: 'pickupAt', text }] };
}

/** @throws Refused (pickupAt) */
export function refuseUnsure(book: Book, confidencePercent: number, earliest: Instant | null): never {
  const local = (at: Instant) => DateTime.fromMillis(at, { zone: book.shop.timeZone }).toFormat('yyyy-MM-dd HH:mm');
  const when = earliest === null ? '' : ` The earliest that may be promised is ${local(earliest)}.`;
  const asked = book.shop.promiseConfidencePercent;
  const text = `This pickup would be kept with ${confidencePercent} %; the shop promises at ${asked} %.${when}`;
  throw new Refused(text, [{ rule: 'confidence', field: 'pickupAt', text }]);
}
