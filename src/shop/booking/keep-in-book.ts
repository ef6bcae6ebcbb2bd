import type { Job } from '../../trade/model/job.ts';
import type { Instant } from '../../trade/model/time.ts';
import type { Inserted, ResidentBook } from '../planning/resident-book.ts';
import { closedAt } from './opening.ts';
import { outlookInBook } from './outlook-in-book.ts';
import { onTheQuarter, type SurePickup } from './pickup-for.ts';

/** Pickups tried: with a promise the car waits for its owner, which may make it ready at another time. */
const MOST_PICKUPS = 4;

/** The pickup to promise: this one; this one or, where the car is not surely ready by then, a later; or the earliest. */
export type PickupWish =
  | { readonly kind: 'exactly' | 'thisOrLater'; readonly pickupAt: Instant }
  | { readonly kind: 'earliest' };

/**
 * A car at the hour told to its customer, in what the others leave, with a promise as sure as the shop gives them. Asked
 * again for exactly the pickup it found, it finds the same. Null when there is none.
 */
export function keepInBook(resident: ResidentBook, asked: Job, wish: PickupWish): Inserted | null {
  const { book } = resident;
  const leastPercent = book.shop.promiseConfidencePercent;
  let pickupAt = wish.kind === 'earliest' ? earliestPickup(resident, asked) : wish.pickupAt;
  for (let tries = 0; tries < MOST_PICKUPS && pickupAt !== null; tries++) {
    if (closedAt(book, asked, 'pickupAt', pickupAt) !== null) return null;
    const promise = { pickupAt, givenAt: book.now, confidencePercent: leastPercent };
    const kept = one(resident, { ...asked, promise });
    if (kept === null) return null;
    if (kept.planned.lateMinutes > 0) {
      // Nobody is free to hand it over then.
      pickupAt = wish.kind === 'exactly' ? null : onTheQuarter(kept.planned.pickupAt);
      continue;
    }
    const outlook = outlookInBook(resident, kept);
    const sure = outlook?.at(pickupAt);
    if (sure !== undefined && sure.confidencePercent >= leastPercent)
      return { ...kept, job: { ...kept.job, promise: { ...promise, ...sure } } };
    pickupAt = wish.kind === 'exactly' ? null : (outlook?.earliest?.pickupAt ?? null);
  }
  return null;
}

function earliestPickup(resident: ResidentBook, asked: Job): Instant | null {
  const free = one(resident, { ...asked, promise: null });
  return free === null ? null : (pickupOf(resident, free)?.pickupAt ?? null);
}

/** The earliest pickup that may be promised for a car so inserted. */
export function pickupOf(resident: ResidentBook, inserted: Inserted): SurePickup | null {
  return outlookInBook(resident, inserted)?.earliest ?? null;
}

function one(resident: ResidentBook, job: Job): Inserted | null {
  const found = resident.insert(job);
  return found !== null && 'length' in found ? (found[0] ?? null) : null;
}
