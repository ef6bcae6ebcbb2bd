import type { Interval } from '../../engine/problem/problem.ts';
import { WEEKDAYS } from '../model/lists.ts';
import type { DayException, DayPart, LocalDate, Weekday, WeeklyHours } from '../model/time.ts';
import { type Intervals, subtract, union } from './intervals.ts';
import { addDays, dayStart, localInstant } from './local-instant.ts';

/** Days in a zone, from the first up to and without the last. */
export interface Days {
  readonly zone: string;
  readonly from: LocalDate;
  readonly to: LocalDate;
}

/** Hours in milliseconds since 1970, as instants are. */
export interface OpenHours {
  /** All hours, authorised overtime included. */
  readonly open: Intervals;
  /** The part of them that is authorised overtime. */
  readonly overtime: Intervals;
}

/**
 * Weekly hours and the days that differ, as instants. `instead` replaces a weekday's parts; `off` takes its
 * parts out, or the whole day when it has none; `overtime` adds parts, which count as overtime where they lie outside
 * the ordinary hours. `off` outranks the others.
 */
export function openHours(days: Days, weekly: WeeklyHours, exceptions: readonly DayException[]): OpenHours {
  const ordinary: Interval[] = [];
  const extra: Interval[] = [];
  const off: Interval[] = [];
  const byDate = new Map<LocalDate, DayException[]>();
  for (const exception of exceptions) {
    const known = byDate.get(exception.date);
    if (known === undefined) byDate.set(exception.date, [exception]);
    else known.push(exception);
  }
  for (let date = days.from; date < days.to; date = addDays(date, 1)) {
    const special = byDate.get(date) ?? [];
    const parts = partsInstead(special) ?? weekly[weekday(date)] ?? [];
    for (const part of parts) ordinary.push(partOfDay(date, part, days.zone));
    for (const day of special) {
      if (day.kind === 'overtime') for (const part of day.parts) extra.push(partOfDay(date, part, days.zone));
      if (day.kind !== 'off') continue;
      if (day.parts.length === 0) off.push(wholeDay(date, days.zone));
      for (const part of day.parts) off.push(partOfDay(date, part, days.zone));
    }
  }
  const closed = union(off);
  const regular = subtract(union(ordinary), closed);
  const open = subtract(union([...ordinary, ...extra]), closed);
  return { open, overtime: subtract(open, regular) };
}

/** What of a day replaces its weekday's parts, of all that says so; undefined when nothing does. */
function partsInstead(special: readonly DayException[]): DayPart[] | undefined {
  let instead: DayPart[] | undefined;
  for (const { kind, parts } of special) if (kind === 'instead') instead = [...(instead ?? []), ...parts];
  return instead;
}

/** When a place may hold a car: always, the closures excepted. `instead` leaves its parts of the day; nights are open. */
export function placeHours(days: Days, closures: readonly DayException[]): Intervals | undefined {
  const closed: Interval[] = [];
  for (const { date, kind, parts } of closures) {
    if (date < days.from || date >= days.to || kind === 'overtime') continue;
    const spans = union(parts.map((part) => partOfDay(date, part, days.zone)));
    const day = [wholeDay(date, days.zone)];
    closed.push(...(kind === 'instead' ? subtract(day, spans) : parts.length === 0 ? day : spans));
  }
  if (closed.length === 0) return undefined;
  const all = { from: dayStart(days.from, days.zone), to: dayStart(days.to, days.zone) };
  return subtract([all], union(closed));
}

/** The days themselves, each from midnight to midnight. */
export function dayWindows(days: Days): Interval[] {
  const windows: Interval[] = [];
  for (let date = days.from; date < days.to; date = addDays(date, 1)) windows.push(wholeDay(date, days.zone));
  return windows;
}

function weekday(date: LocalDate): Weekday {
  return WEEKDAYS[(new Date(`${date}T00:00:00Z`).getUTCDay() + 6) % 7]!;
}

function wholeDay(date: LocalDate, zone: string): Interval {
  return { from: dayStart(date, zone), to: dayStart(addDays(date, 1), zone) };
}

function partOfDay(date: LocalDate, part: DayPart, zone: string): Interval {
  return { from: localInstant(date, part.from, zone, 'start'), to: localInstant(date, part.to, zone, 'end') };
}
