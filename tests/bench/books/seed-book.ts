import { draftJob } from '../../../src/shop/booking/draft-job.ts';
import type { Book } from '../../../src/trade/formulate/book.ts';
import { JobId, type ShopId } from '../../../src/trade/model/ids.ts';
import type { Job } from '../../../src/trade/model/job.ts';
import type { Instant } from '../../../src/trade/model/time.ts';
import { seededRandom } from '../../engine/random/seeded-random.ts';
import { makeBookings } from './bookings.ts';
import { type SeedShop, seedShop } from './seed-shop.ts';

/** Days ahead that a plan covers at least; as the server does. */
const PLAN_DAYS = 28;
/** Share of customers who were promised the pickup they want; the others only want it. */
const PROMISED = 0.8;

export interface SeedBookSize {
  readonly shopId: ShopId;
  readonly seed: number;
  readonly jobs: number;
  /** How often the seed's shop of four bays and five people stands under the roof. */
  readonly copies: number;
  readonly now: Instant;
}

/** A book of cars that nobody has planned yet: all booked, none told an hour to come, most promised a pickup. */
export function makeSeedBook(size: SeedBookSize): Book {
  const shop: SeedShop = seedShop(size.copies, size.shopId);
  const random = seededRandom(size.seed + 0x5eed);
  const { template: _, ...data } = shop;
  const empty: Book = {
    ...data,
    jobs: [],
    events: [],
    readings: [],
    previousPlan: null,
    now: size.now,
    horizonDays: PLAN_DAYS,
  };
  const requests = makeBookings(shop, size.copies, size.jobs, size.seed, size.now);
  const jobs = requests.map((request, index): Job => {
    const job = draftJob(request, JobId.parse(`bench-${index + 1}`), empty);
    const pickupAt = job.wantedPickupAt;
    const promised = pickupAt !== null && random.chance(PROMISED);
    return {
      ...job,
      state: 'booked',
      promise: promised
        ? { pickupAt, givenAt: size.now, confidencePercent: empty.shop.promiseConfidencePercent }
        : null,
    };
  });
  return { ...empty, jobs };
}
