import type { BookingRequest } from '../../../src/shop/booking/booking-request.ts';
import { draftJob } from '../../../src/shop/booking/draft-job.ts';
import { addDays, localDate, localInstant } from '../../../src/trade/calendar/local-instant.ts';
import type { Book } from '../../../src/trade/formulate/book.ts';
import { JobId, type ShopId } from '../../../src/trade/model/ids.ts';
import type { Instant, LocalTime } from '../../../src/trade/model/time.ts';
import { seedShop } from '../books/seed-shop.ts';

export interface RaceShop {
  readonly book: Book;
  /** What a client asks for, but for the hours. */
  readonly request: BookingRequest;
  /** An instant so many working days ahead. */
  at(workday: number, time: LocalTime): Instant;
}

/**
 * A small invented shop with one wet bay, two yard places and one person, so that of many cars asked for one hour one at most can be washed in it, with
 * `cars` booked on the days after. Planning it costs little: what is raced for is the store.
 */
export function raceShop(shopId: ShopId, cars: number, now: Instant): RaceShop {
  const { template, ...seed } = seedShop(1, shopId);
  const zone = seed.shop.timeZone;
  const at = (workday: number, time: LocalTime) =>
    localInstant(nthWorkday(localDate(now, zone), workday), time, zone, 'start');
  const places = new Set(['bay1', 'yard1', 'yard2']);
  const people = new Set(['ash']);
  const shop = {
    ...seed,
    places: seed.places.filter(({ id }) => places.has(id)).map((place) => ({ ...place, blockedBy: [] })),
    technicians: seed.technicians.filter(({ id }) => people.has(id)),
    recipes: seed.recipes.filter(({ id }) => id === 'walkInWash'),
  };
  const empty: Book = { ...shop, jobs: [], events: [], readings: [], previousPlan: null, now, horizonDays: 28 };
  const like = template.find(({ recipeId }) => recipeId === 'walkInWash')!;
  const request: BookingRequest = {
    customer: { ...like.customer, name: 'Racer (invented)' },
    vehicle: { ...like.vehicle, registration: 'RACE' },
    condition: { soil: 1, defects: 0, brakeDust: 1, minerals: false, tar: false },
    recipeId: like.recipeId,
    addOns: [],
    priority: 1,
    earliestDropOff: at(1, '08:30'),
    wantedDropOffAt: null,
    wantedPickupAt: null,
    arranged: null,
    notes: '',
  };
  const jobs = Array.from({ length: cars }, (_, k) => {
    const dropOffAt = at(2 + k, '09:00');
    const job = draftJob({ ...request, earliestDropOff: dropOffAt }, JobId.parse(`standing-${k + 1}`), empty);
    return { ...job, state: 'booked' as const, dropOffAt };
  });
  return { book: { ...empty, jobs }, request, at };
}

function nthWorkday(today: ReturnType<typeof localDate>, n: number) {
  let left = n;
  for (let day = addDays(today, 1); ; day = addDays(day, 1)) {
    const weekday = new Date(`${day}T00:00:00Z`).getUTCDay();
    if (weekday === 0 || weekday === 6) continue;
    if (left <= 1) return day;
    left -= 1;
  }
}
