import type { Interval } from '../../engine/problem/problem.ts';
import { addDays, localDate } from '../../trade/calendar/local-instant.ts';
import { openHours } from '../../trade/calendar/open-hours.ts';
import type { Shop } from '../../trade/model/shop.ts';
import type { Instant } from '../../trade/model/time.ts';

/** Opening hours are laid out so far past the last instant that matters. */
const PAST_LAST_DAYS = 21;

/** The shop's opening hours in milliseconds, from the day before `now` until three weeks after `last`. */
export function openingSpans(shop: Shop, now: Instant, last: Instant): readonly Interval[] {
  const from = addDays(localDate(now, shop.timeZone), -1);
  const to = addDays(localDate(Math.max(now, last) as Instant, shop.timeZone), PAST_LAST_DAYS);
  return openHours({ zone: shop.timeZone, from, to }, shop.hours, shop.exceptions).open;
}
