import { type CalendarFeed, calendarFeed } from '../feeds/calendar-feed.ts';
import type { CustomerDeps } from './deps.ts';
import { openVisit } from './open-visit.ts';

/** Drop-off and pickup as told, for the customer's own calendar; null when the token opens nothing. */
export async function visitCalendar(deps: Pick<CustomerDeps, 'store' | 'clock'>, token: string) {
  const opened = await openVisit(deps, token);
  if (opened === null) return null;
  const { shopId, jobId, visit } = opened;
  const feed = await calendarFeed(deps, { shopId, of: { jobId } });
  const told = visit.told.at(-1);
  const stands = visit.state === 'booked' || visit.state === 'inShop' || visit.state === 'done';
  const calendar: CalendarFeed = {
    ...feed,
    // A calendar takes over what has a higher number than what it holds (RFC 5545, 3.8.7.4).
    planVersion: told?.number ?? 0,
    asOf: told?.toldAt ?? feed.asOf,
    // What is only planned has not been told.
    entries: stands
      ? feed.entries
          .filter(({ uid }) => !uid.startsWith('pickup-') || visit.pickup !== null)
          .map((entry) => ({ ...entry, location: visit.shop.toCustomers?.address || visit.shop.name }))
      : [],
  };
  return { shopId, calendar };
}
