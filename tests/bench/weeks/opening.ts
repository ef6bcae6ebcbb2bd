import { addDays, localDate } from '../../../src/trade/calendar/local-instant.ts';
import { openHours } from '../../../src/trade/calendar/open-hours.ts';
import type { ShopData } from '../../../src/trade/formulate/book.ts';
import type { Instant, LocalDate } from '../../../src/trade/model/time.ts';

/** When a shop is open, and on which days people work in it from Monday to Friday. */
export function openingOf({ shop }: Pick<ShopData, 'shop'>, from: Instant, until: Instant) {
  const zone = shop.timeZone;
  const days = { zone, from: localDate(from, zone), to: addDays(localDate(until, zone), 1) };
  const { open } = openHours(days, shop.hours, shop.exceptions);
  const workdays: LocalDate[] = [];
  for (let date = days.from; date < days.to; date = addDays(date, 1)) {
    const weekday = new Date(`${date}T00:00:00Z`).getUTCDay();
    if (weekday !== 0 && weekday !== 6) workdays.push(date);
  }
  return {
    workdays,
    /** The instant itself where the shop is open then, else when it opens next. */
    whenOpen(at: number): Instant {
      const hours = open.find(({ to }) => to > at);
      return Math.max(at, hours?.from ?? at) as Instant;
    },
  };
}
