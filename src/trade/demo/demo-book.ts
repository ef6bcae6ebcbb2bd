import { DateTime } from 'luxon';
import { z } from 'zod';
import { Job } from '../model/job.ts';
import type { Shop } from '../model/shop.ts';
import { type Instant, LocalTime } from '../model/time.ts';

/** A wall-clock time on the n-th working day (Monday to Friday, not closed) from today; 0 is today or the next one. */
const WorkingTime = z.object({ openDay: z.int().min(0).max(60), at: LocalTime });
type WorkingTime = z.infer<typeof WorkingTime>;

/** One booking of the demo's book, with dates relative to the day it is loaded. Customers and cars are invented. */
export const BookTemplateEntry = Job.pick({
  customer: true,
  vehicle: true,
  condition: true,
  recipeId: true,
  addOns: true,
  priority: true,
  notes: true,
}).extend({
  earliestDropOff: WorkingTime,
  wantedPickup: WorkingTime.nullable(),
  /** Why this one promise is told without room, so that the demo has a promise at risk; absent for all others. */
  toldTightly: z.string().min(1).optional(),
});
export type BookTemplateEntry = z.infer<typeof BookTemplateEntry>;

export const BookTemplate = z.array(BookTemplateEntry);

/** A booking as it would be asked for at the desk. */
export type BookingDraft = Omit<BookTemplateEntry, 'earliestDropOff' | 'wantedPickup' | 'toldTightly'> & {
  readonly earliestDropOff: Instant;
  readonly wantedPickupAt: Instant | null;
  readonly isToldTightly: boolean;
};

/**
 * Puts the template's bookings on the calendar, in the shop's zone. Day 0 is the first working day whose opening lies
 * after `now`, so that no booking begins in the past.
 */
export function demoBook(
  template: readonly BookTemplateEntry[],
  shop: Pick<Shop, 'timeZone' | 'hours' | 'exceptions'>,
  now: Instant,
): BookingDraft[] {
  const lastDay = Math.max(
    0,
    ...template.flatMap((entry) => [entry.earliestDropOff.openDay, entry.wantedPickup?.openDay ?? 0]),
  );
  const days = workingDays(shop, now, lastDay + 1);
  const instant = ({ openDay, at }: WorkingTime): Instant => {
    const [hour, minute] = at.split(':').map(Number);
    return days[openDay]!.set({ hour, minute }).toMillis() as Instant;
  };
  return template.map(({ earliestDropOff, wantedPickup, toldTightly, ...booking }) => ({
    ...booking,
    earliestDropOff: instant(earliestDropOff),
    wantedPickupAt: wantedPickup ? instant(wantedPickup) : null,
    isToldTightly: toldTightly !== undefined,
  }));
}

/** @throws RangeError when the shop is closed on nearly every weekday of a year. */
function workingDays(shop: Pick<Shop, 'timeZone' | 'hours' | 'exceptions'>, now: Instant, count: number): DateTime[] {
  const days: DateTime[] = [];
  const today = DateTime.fromMillis(now, { zone: shop.timeZone }).startOf('day');
  for (let ahead = 0; days.length < count; ahead++) {
    if (ahead > 366) throw new RangeError('hours: the shop has too few working days in the coming year');
    const day = today.plus({ days: ahead });
    const weekday = day.setLocale('en').weekdayLong!.toLowerCase() as keyof typeof shop.hours;
    const opening = shop.hours[weekday]?.[0];
    const exceptional = shop.exceptions.some(
      (exception) => exception.date === day.toISODate() && exception.kind !== 'overtime',
    );
    if (day.weekday > 5 || !opening || exceptional) continue;
    const [hour, minute] = opening.from.split(':').map(Number);
    if (day.set({ hour, minute }).toMillis() < now) continue;
    days.push(day);
  }
  return days;
}
