import type { TimelineReply } from '../../api/replies.ts';

const HOUR_MS = 3_600_000;

/** The hours a day sheet shows: everybody's shifts with an hour around them, and what the hour hand needs. */
export interface DayRange {
  readonly from: number;
  readonly to: number;
  /** Whole hours to rule, in milliseconds since 1970. */
  readonly hours: readonly number[];
}

export function dayRange(timeline: TimelineReply): DayRange {
  const begins = timeline.people.flatMap((person) => person.hours.map((part) => Date.parse(part.from)));
  const ends = timeline.people.flatMap((person) => person.hours.map((part) => Date.parse(part.to)));
  const dayStart = Date.parse(timeline.from);
  const dayEnd = Date.parse(timeline.to);
  const from = Math.max(dayStart, Math.min(...begins, dayStart + 8 * HOUR_MS) - HOUR_MS);
  const to = Math.min(dayEnd, Math.max(...ends, dayStart + 18 * HOUR_MS) + HOUR_MS);
  const hours: number[] = [];
  for (let hour = Math.ceil(from / HOUR_MS) * HOUR_MS; hour < to; hour += HOUR_MS) hours.push(hour);
  return { from, to, hours };
}
