import { BookingRequest } from '../../../src/shop/booking/booking-request.ts';
import { addDays, localDate, localInstant } from '../../../src/trade/calendar/local-instant.ts';
import type { AddOn } from '../../../src/trade/model/recipe.ts';
import type { Instant, LocalDate, LocalTime } from '../../../src/trade/model/time.ts';
import { type SeededRandom, seededRandom } from '../../engine/random/seeded-random.ts';
import type { SeedShop } from './seed-shop.ts';

/** Cars a working day for one copy of the seed's shop: about as many as its one clean room can coat. */
const CARS_A_DAY = 1.8;
const ADD_ONS: readonly AddOn[] = ['glass', 'wheels', 'trim', 'interior'];
const ARRIVALS: readonly LocalTime[] = ['08:00', '08:30', '09:00', '10:00', '11:00', '13:00', '14:00'];
const PICKUPS: readonly LocalTime[] = ['12:00', '15:00', '16:00', '17:00', '17:30'];

/**
 * Invented bookings in the order of their drop-offs, from the first working day after `now` on. Cars, services and how
 * long a customer gives the shop are drawn from the seed's book, with some days more for the longer stays, as a desk gives them; soil, defects, add-ons and hours are drawn around it.
 */
export function makeBookings(shop: SeedShop, copies: number, count: number, seed: number, now: Instant) {
  const random = seededRandom(seed);
  const zone = shop.shop.timeZone;
  const workday = workdays(addDays(localDate(now, zone), 1));
  return Array.from({ length: count }, (_, index): BookingRequest => {
    const like = random.pick(shop.template);
    const day = Math.floor(index / (CARS_A_DAY * copies));
    const given = like.wantedPickup === null ? 5 : like.wantedPickup.openDay - like.earliestDropOff.openDay;
    const stays = given < 2 ? given : given + random.whole(1, 4);
    const arrival = given === 0 ? random.pick(ARRIVALS.slice(0, 4)) : random.pick(ARRIVALS);
    const pickup = given === 0 ? '17:30' : random.pick(PICKUPS);
    return BookingRequest.parse({
      customer: { ...like.customer, name: `Customer ${index + 1} (invented)` },
      vehicle: { ...like.vehicle, registration: `BENCH-${index + 1}` },
      condition: {
        soil: near(random, like.condition.soil, 3),
        defects: like.condition.defects === 0 ? 0 : near(random, like.condition.defects, 3),
        brakeDust: near(random, like.condition.brakeDust, 3),
        minerals: random.chance(0.15),
        tar: random.chance(0.25),
      },
      recipeId: like.recipeId,
      addOns: like.addOns.length > 0 && random.chance(0.3) ? [random.pick(ADD_ONS)] : like.addOns,
      priority: like.priority,
      earliestDropOff: localInstant(workday(day), arrival, zone, 'start'),
      wantedPickupAt: random.chance(0.9) ? localInstant(workday(day + stays), pickup, zone, 'start') : null,
    });
  });
}

function near(random: SeededRandom, grade: number, most: number): number {
  return Math.max(0, Math.min(most, grade + random.whole(-1, 1)));
}

/** The n-th day from Monday to Friday, from a date on. */
function workdays(first: LocalDate): (n: number) => LocalDate {
  const known: LocalDate[] = [];
  let next = first;
  return (n) => {
    for (; known.length <= n; next = addDays(next, 1)) {
      const weekday = new Date(`${next}T00:00:00Z`).getUTCDay();
      if (weekday !== 0 && weekday !== 6) known.push(next);
    }
    return known[n]!;
  };
}
