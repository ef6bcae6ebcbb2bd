import { IANAZone } from 'luxon';
import type { Instant, LocalDate, LocalTime } from '../model/time.ts';

const minuteMs = 60_000;
export const dayMs = 24 * 60 * minuteMs;

const zones = new Map<string, IANAZone>();

/** Offset of a zone from UTC at an instant, in milliseconds, positive east of Greenwich. */
function offsetMs(zoneName: string, at: number): number {
  let zone = zones.get(zoneName);
  if (zone === undefined) {
    zone = IANAZone.create(zoneName);
    if (!zone.isValid) throw new RangeError(`timeZone "${zoneName}" is not an IANA time zone`);
    zones.set(zoneName, zone);
  }
  return zone.offset(at) * minuteMs;
}

const steadyOffsets = new Map<string, number | null>();
/** Days remembered before all are forgotten: a century or so of one zone. */
const mostDaysRemembered = 40_000;

/** The offset that holds a day and a half around a calendar day; null when the clocks change in it. Asked of every hour. */
function steadyOffsetMs(zoneName: string, day: number): number | null {
  const key = `${zoneName} ${day}`;
  let offset = steadyOffsets.get(key);
  if (offset === undefined) {
    const before = offsetMs(zoneName, day - 1.5 * dayMs);
    offset = before === offsetMs(zoneName, day + 2.5 * dayMs) ? before : null;
    if (steadyOffsets.size >= mostDaysRemembered) steadyOffsets.clear();
    steadyOffsets.set(key, offset);
  }
  return offset;
}

/**
 * The instant of a wall-clock time.
 *
 * On the day a zone's clocks change: a time that does not exist (gap) is the moment of the change, so that hours
 * keep their order and hours that lie wholly in the gap vanish. Of a time that exists twice (overlap), `start`
 * takes the first occurrence and `end` the last, so that hours which begin or end in it are as long as they can
 * be read; a break that lies wholly in the repeated hour is lost.
 */
export function localInstant(date: LocalDate, time: LocalTime, zoneName: string, edge: 'start' | 'end'): Instant {
  const [hours, minutes] = time.split(':').map(Number);
  const day = Date.parse(`${date}T00:00:00Z`);
  const wall = day + (hours! * 60 + minutes!) * minuteMs;
  if (Number.isNaN(wall)) throw new RangeError(`"${date} ${time}" is not a local date and time`);
  const steady = steadyOffsetMs(zoneName, day);
  if (steady !== null) return (wall - steady) as Instant;
  const before = offsetMs(zoneName, wall - dayMs);
  const after = offsetMs(zoneName, wall + dayMs);
  if (before === after) return (wall - before) as Instant;
  const exists = [wall - before, wall - after].filter((at) => at + offsetMs(zoneName, at) === wall);
  if (exists.length === 0) return clockChange(zoneName, wall - dayMs, wall + dayMs);
  return (edge === 'start' ? Math.min(...exists) : Math.max(...exists)) as Instant;
}

/** The first instant with the new offset, between two instants whose offsets differ. */
function clockChange(zoneName: string, from: number, to: number): Instant {
  const old = offsetMs(zoneName, from);
  let last = Math.floor(from / minuteMs);
  let first = Math.ceil(to / minuteMs);
  while (first - last > 1) {
    const middle = (first + last) >> 1;
    if (offsetMs(zoneName, middle * minuteMs) === old) last = middle;
    else first = middle;
  }
  return (first * minuteMs) as Instant;
}

/** The calendar day an instant lies in. */
export function localDate(at: Instant, zoneName: string): LocalDate {
  return new Date(at + offsetMs(zoneName, at)).toISOString().slice(0, 10);
}

/** The calendar day `days` after another. */
export function addDays(date: LocalDate, days: number): LocalDate {
  return new Date(Date.parse(`${date}T00:00:00Z`) + days * dayMs).toISOString().slice(0, 10);
}

/** The instant a calendar day begins. */
export function dayStart(date: LocalDate, zoneName: string): Instant {
  return localInstant(date, '00:00', zoneName, 'start');
}
