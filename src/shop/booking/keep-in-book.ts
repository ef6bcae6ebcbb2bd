import type { Job } from '../../trade/model/job.ts';
import type { Instant } from '../../trade/model/time.ts';
import type { Inserted, ResidentBook } from '../planning/resident-book.ts';
import { firstInserted } from './first-inserted.ts';
import { forecastInBook } from './forecast-in-book.ts';
import { closedAt } from './opening.ts';
import { onTheQuarter } from './pickup-for.ts';

/** Pickups tried: with a promise the car waits for its owner, which may make it ready at another time. */
const MOST_PICKUPS = 5;

/** The pickup to promise: this one and no other; the earliest, which lies about there; or the earliest. */
export type PickupWish =
  | { readonly kind: 'exactly' | 'about'; readonly pickupAt: Instant }
  | { readonly kind: 'earliest' };

/**
 * A car at the hour told to its customer, in what the others leave, with a promise as sure as the shop gives them. Asked
 * again for exactly the pickup it found, it finds the same. Null when there is none. Where the car could not wait for its owner is
 * found out by a first look at its luck; only what could be promised is simulated to the end.
 */
export function keepInBook(resident: ResidentBook, asked: Job, wish: PickupWish): Inserted | null {
  const { book } = resident;
  const leastPercent = book.shop.promiseConfidencePercent;
  const mayBeLater = wish.kind !== 'exactly';
  let pickupAt = wish.kind === 'earliest' ? earliestPickup(resident, asked) : wish.pickupAt;
  /** One that could be promised, while an earlier is tried. */
  let found: Inserted | null = null;
  for (let tries = 0; tries < MOST_PICKUPS && pickupAt !== null; tries++) {
    if (closedAt(book, asked, 'pickupAt', pickupAt) !== null) break;
    const promise = { pickupAt, givenAt: book.now, confidencePercent: leastPercent };
    const kept = firstInserted(resident, { ...asked, promise });
    if (kept === null) break;
    if (kept.planned.lateMinutes > 0) {
      if (!mayBeLater || found !== null) break;
      // Nobody is free to hand it over then.
      pickupAt = onTheQuarter(kept.planned.pickupAt);
      continue;
    }
    const forecast = forecastInBook(resident, kept);
    if (forecast === null) break;
    if (mayBeLater && found === null) {
      const { rough } = forecast;
      if (rough.at(pickupAt).confidencePercent < leastPercent) {
        pickupAt = rough.earliest?.pickupAt ?? null;
        continue;
      }
    }
    const { whole } = forecast;
    const sure = whole.at(pickupAt);
    const earliest = whole.earliest?.pickupAt ?? null;
    if (sure.confidencePercent < leastPercent) {
      if (!mayBeLater || found !== null) break;
      pickupAt = earliest;
      continue;
    }
    found = { ...kept, job: { ...kept.job, promise: { ...promise, ...sure } } };
    if (!mayBeLater || earliest === null || earliest >= pickupAt) break;
    pickupAt = earliest;
  }
  return found;
}

function earliestPickup(resident: ResidentBook, asked: Job): Instant | null {
  const free = firstInserted(resident, { ...asked, promise: null });
  return free === null ? null : (forecastInBook(resident, free)?.rough.earliest?.pickupAt ?? null);
}
