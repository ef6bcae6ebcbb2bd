import { addDays, dayStart } from '../../trade/calendar/local-instant.ts';
import type { Instant, LocalDate } from '../../trade/model/time.ts';
import { Invalid } from '../problems/problems.ts';

/** So many whole weeks that end with the Sunday of a week. */
export interface Weeks {
  /** Monday of the last week. */
  readonly monday: LocalDate;
  readonly weeks: number;
}

export interface WeeksStretch {
  readonly firstMonday: LocalDate;
  readonly from: Instant;
  /** The Monday after the last week, 00:00. */
  readonly to: Instant;
}

/** @throws Invalid (monday) when it is none */
export function stretchOf({ monday, weeks }: Weeks, zone: string): WeeksStretch {
  if (new Date(`${monday}T00:00:00Z`).getUTCDay() !== 1) throw new Invalid(`${monday} is not a Monday.`, 'monday');
  const firstMonday = addDays(monday, -7 * (weeks - 1));
  return { firstMonday, from: dayStart(firstMonday, zone), to: dayStart(addDays(monday, 7), zone) };
}
