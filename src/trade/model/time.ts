import { z } from 'zod';
import { WEEKDAYS } from './lists.ts';

/** A moment, in milliseconds since 1970-01-01T00:00Z. The engine's minutes are made from it, never mixed with it. */
export const Instant = z.int().nonnegative().brand<'Instant'>();
export type Instant = z.infer<typeof Instant>;

/** A calendar day in the shop's zone, `YYYY-MM-DD`. */
export const LocalDate = z.iso.date();
export type LocalDate = z.infer<typeof LocalDate>;

/** A wall-clock time in the shop's zone, `HH:mm`, or `24:00` for the end of the day. */
export const LocalTime = z.string().regex(/^(([01]\d|2[0-3]):[0-5]\d|24:00)$/, 'a time of day as HH:mm');
export type LocalTime = z.infer<typeof LocalTime>;

/** An IANA time zone name. */
export const TimeZone = z.string().refine(
  (name) => {
    try {
      new Intl.DateTimeFormat('en', { timeZone: name });
      return true;
    } catch {
      return false;
    }
  },
  { message: 'not an IANA time zone' },
);

/** Part of a local day, half-open. */
export const DayPart = z
  .object({ from: LocalTime, to: LocalTime })
  .refine((part) => part.from < part.to, { message: 'must end after it starts', path: ['to'] });
export type DayPart = z.infer<typeof DayPart>;

export const Weekday = z.enum(WEEKDAYS);
export type Weekday = z.infer<typeof Weekday>;

/** Parts of each weekday; a weekday left out has none. Lunch is the gap between two parts. */
export const WeeklyHours = z.partialRecord(Weekday, z.array(DayPart).max(8));
export type WeeklyHours = z.infer<typeof WeeklyHours>;

/** Days that differ from the week: closures, time off (no parts), longer days, authorised overtime. */
export const DayException = z.object({
  date: LocalDate,
  kind: z.enum(['instead', 'overtime', 'off']),
  parts: z.array(DayPart).max(8),
  note: z.string().max(200).optional(),
});
export type DayException = z.infer<typeof DayException>;

export const Minutes = z.int().nonnegative();
