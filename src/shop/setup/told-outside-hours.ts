import { addDays, localDate } from '../../trade/calendar/local-instant.ts';
import { openHours } from '../../trade/calendar/open-hours.ts';
import type { Book } from '../../trade/formulate/book.ts';
import type { JobId } from '../../trade/model/ids.ts';
import type { Instant } from '../../trade/model/time.ts';
import { carName } from '../jobs/job-view.ts';

/** An hour told to a customer at which the shop is closed and nobody is named to be there. */
export interface OutsideHours {
  readonly jobId: JobId;
  readonly car: string;
  readonly what: 'dropOff' | 'pickup';
  readonly at: Instant;
}

/** Hours told for what is still to come that lie outside the shop's opening hours. A pickup may be at the minute of closing. */
export function toldOutsideHours(book: Book): OutsideHours[] {
  const { shop, now } = book;
  const told = book.jobs.flatMap((job): OutsideHours[] => {
    const car = carName(job);
    const dropOffAt = job.state === 'inShop' || job.arranged?.dropOffBy ? null : job.dropOffAt;
    const pickupAt = job.arranged?.pickupBy ? null : (job.promise?.pickupAt ?? null);
    return [
      ...(dropOffAt === null ? [] : [{ jobId: job.id, car, what: 'dropOff' as const, at: dropOffAt }]),
      ...(pickupAt === null ? [] : [{ jobId: job.id, car, what: 'pickup' as const, at: pickupAt }]),
    ].filter((each) => each.at >= now);
  });
  if (told.length === 0) return [];
  const last = Math.max(...told.map((each) => each.at)) as Instant;
  const days = {
    zone: shop.timeZone,
    from: localDate(now, shop.timeZone),
    to: addDays(localDate(last, shop.timeZone), 1),
  };
  const { open } = openHours(days, shop.hours, shop.exceptions);
  return told.filter(({ at }) => !open.some((hours) => at >= hours.from && at <= hours.to));
}
