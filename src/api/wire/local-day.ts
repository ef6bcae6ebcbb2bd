import { z } from 'zod';
import { addDays, dayStart, localDate } from '../../trade/calendar/local-instant.ts';
import { type Instant, LocalDate } from '../../trade/model/time.ts';

/** `?day=`: a calendar day in the shop's zone. */
export const DayQuery = z.object({
  day: LocalDate.optional().describe("YYYY-MM-DD in the shop's zone; today when left out."),
});

/** A local day as a half-open stretch; 23 or 25 hours long when the clocks change. */
export function stretchOf(day: LocalDate, zone: string, days = 1): { from: Instant; to: Instant } {
  return { from: dayStart(day, zone), to: dayStart(addDays(day, days), zone) };
}

export function todayIn(zone: string, now: Instant): LocalDate {
  return localDate(now, zone);
}

/** The Monday of the week an instant lies in. */
export function mondayIn(zone: string, now: Instant): LocalDate {
  const today = localDate(now, zone);
  const weekday = (new Date(`${today}T00:00:00Z`).getUTCDay() + 6) % 7;
  return addDays(today, -weekday);
}
