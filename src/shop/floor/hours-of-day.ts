import { addDays } from '../../trade/calendar/local-instant.ts';
import { openHours } from '../../trade/calendar/open-hours.ts';
import type { Technician } from '../../trade/model/people.ts';
import type { Instant, LocalDate } from '../../trade/model/time.ts';

type Hours = readonly { readonly from: Instant; readonly to: Instant }[];

/** Days of one person that are remembered before all are forgotten. */
const MOST_DAYS = 60;

/** By person as the store hands them out: frozen, and another object once something about them has changed. */
const remembered = new WeakMap<Technician, Map<string, Hours>>();

/** A person's shifts of one local day, authorised overtime included. Finding them asks the zone of every hour, so it is done once. */
export function hoursOfDay(person: Technician, date: LocalDate, zone: string): Hours {
  const days = remembered.get(person) ?? new Map<string, Hours>();
  const known = days.get(`${date} ${zone}`);
  if (known !== undefined) return known;
  const { open } = openHours({ zone, from: date, to: addDays(date, 1) }, person.shifts, person.exceptions);
  const hours = open.map(({ from, to }) => ({ from: from as Instant, to: to as Instant }));
  if (!Object.isFrozen(person)) return hours;
  if (days.size >= MOST_DAYS) days.clear();
  remembered.set(person, days.set(`${date} ${zone}`, hours));
  return hours;
}
