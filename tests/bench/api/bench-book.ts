import type { BookingRequest } from '../../../src/shop/booking/booking-request.ts';
import type { Book } from '../../../src/trade/formulate/book.ts';
import { ShopId } from '../../../src/trade/model/ids.ts';
import type { Instant } from '../../../src/trade/model/time.ts';
import { makeBookings } from '../books/bookings.ts';
import { makeSeedBook } from '../books/seed-book.ts';
import { seedShop } from '../books/seed-shop.ts';

/** Copies of the seed's shop of 4 bays and 5 people: one for small books, three (12 bays, 15 people) for the others. */
export function copiesFor(jobs: number): number {
  return jobs <= 50 ? 1 : 3;
}

/** A book of the seed's recipes as of this minute, in a shop of its own. */
export function benchBook(jobs: number, seed: number): Book {
  const now = (Math.floor(Date.now() / 60_000) * 60_000) as Instant;
  return makeSeedBook({ shopId: ShopId.parse(`bench-${jobs}-${seed}`), seed, jobs, copies: copiesFor(jobs), now });
}

/** Cars somebody asks a quote for, as the API takes them: instants in ISO 8601. */
export function quoteRequests(jobs: number, count: number, seed: number): unknown[] {
  const copies = copiesFor(jobs);
  const shop = seedShop(copies, ShopId.parse('quotes'));
  return makeBookings(shop, copies, count, seed, Date.now() as Instant).map(onTheWire);
}

function onTheWire(request: BookingRequest): unknown {
  const iso = (at: number | null) => (at === null ? null : new Date(at).toISOString());
  return {
    ...request,
    earliestDropOff: iso(request.earliestDropOff),
    wantedDropOffAt: iso(request.wantedDropOffAt),
    wantedPickupAt: iso(request.wantedPickupAt),
  };
}
