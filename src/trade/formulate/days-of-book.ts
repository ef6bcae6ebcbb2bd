import { addDays, dayMs, localDate } from '../calendar/local-instant.ts';
import type { Days } from '../calendar/open-hours.ts';
import type { Job } from '../model/job.ts';
import type { Instant } from '../model/time.ts';
import type { Book } from './book.ts';

/** How far past the last hour told to a customer a plan may run, if the book does not say. */
const usualSlackDays = 14;

/** The days of the axis: it begins before all that is known, for its minutes do not go below nought. */
export function daysOf(book: Book): Days {
  const zone = book.shop.timeZone;
  const { slackDays = usualSlackDays } = book;
  let first: number = book.now;
  let last = book.now + book.horizonDays * dayMs;
  for (const { occurredAt } of book.events) first = Math.min(first, occurredAt);
  for (const job of book.jobs) {
    for (const at of hoursTold(job)) {
      first = Math.min(first, at);
      last = Math.max(last, at + slackDays * dayMs);
    }
  }
  return { zone, from: localDate(first as Instant, zone), to: addDays(localDate(last as Instant, zone), 1) };
}

/** All hours that a job's customer was told or wants, and that the desk decided on. */
export function hoursTold({ earliestDropOff, dropOffAt, wantedPickupAt, promise, wishes = [] }: Job): Instant[] {
  const hours = [earliestDropOff];
  add(hours, dropOffAt);
  add(hours, wantedPickupAt);
  add(hours, promise?.pickupAt);
  for (const { startAt, notBefore } of wishes) {
    add(hours, startAt);
    add(hours, notBefore);
  }
  return hours;
}

function add(hours: Instant[], at: Instant | null | undefined): void {
  if (at != null) hours.push(at);
}
