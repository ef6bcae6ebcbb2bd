/** Dates and numbers as the reader's language writes them, in the shop's time zone. */
const language = typeof navigator === 'undefined' ? 'en' : navigator.language;

const cache = new Map<string, Intl.DateTimeFormat>();

/** Made once for each form: making one takes a slow tablet milliseconds, using it takes none. */
function formatter(locale: string, zone: string, options: Intl.DateTimeFormatOptions): Intl.DateTimeFormat {
  const key = `${locale} ${zone} ${JSON.stringify(options)}`;
  let made = cache.get(key);
  if (!made) {
    made = new Intl.DateTimeFormat(locale, { timeZone: zone, ...options });
    cache.set(key, made);
  }
  return made;
}

const format = (zone: string, options: Intl.DateTimeFormatOptions, at: string | number | Date) =>
  formatter(language, zone, options).format(new Date(at));

export const clockTime = (zone: string, at: string | number) =>
  format(zone, { hour: '2-digit', minute: '2-digit', hourCycle: 'h23' }, at);

export const dayAndTime = (zone: string, at: string | number) =>
  format(
    zone,
    { weekday: 'short', day: 'numeric', month: 'short', hour: '2-digit', minute: '2-digit', hourCycle: 'h23' },
    at,
  );

export const weekdayOf = (zone: string, at: string | number) => format(zone, { weekday: 'short', day: 'numeric' }, at);

export const longDay = (localDate: string) =>
  format('UTC', { weekday: 'long', day: 'numeric', month: 'long' }, `${localDate}T12:00:00Z`);

/** The calendar day of an instant in a zone, YYYY-MM-DD. */
export const localDateOf = (zone: string, at: string | number | Date) =>
  formatter('en-CA', zone, { year: 'numeric', month: '2-digit', day: '2-digit' }).format(new Date(at));

export function daysAfter(localDate: string, days: number): string {
  return new Date(Date.parse(`${localDate}T12:00:00Z`) + days * 86_400_000).toISOString().slice(0, 10);
}

/** The Monday of a day's week. */
export function mondayOf(localDate: string): string {
  const weekday = new Date(`${localDate}T12:00:00Z`).getUTCDay();
  return daysAfter(localDate, -((weekday + 6) % 7));
}

/** An instant for a wall-clock time of a day in a zone: the first guess corrected by the zone's offset there. */
export function instantAt(zone: string, localDate: string, clock: string): string {
  const guess = Date.parse(`${localDate}T${clock}:00Z`);
  const offset = offsetMinutes(zone, guess);
  const corrected = guess - offset * 60_000;
  return new Date(guess - offsetMinutes(zone, corrected) * 60_000).toISOString();
}

function offsetMinutes(zone: string, at: number): number {
  const name = formatter('en', zone, { timeZoneName: 'longOffset' })
    .formatToParts(new Date(at))
    .find((part) => part.type === 'timeZoneName')?.value;
  const match = /([+-])(\d{2}):(\d{2})/.exec(name ?? '');
  return match ? (match[1] === '-' ? -1 : 1) * (Number(match[2]) * 60 + Number(match[3])) : 0;
}

export function duration(minutes: number): string {
  const whole = Math.abs(Math.round(minutes));
  const hours = Math.floor(whole / 60);
  const rest = whole % 60;
  const text = hours === 0 ? `${rest} min` : rest === 0 ? `${hours} h` : `${hours} h ${String(rest).padStart(2, '0')}`;
  return minutes < 0 ? `−${text}` : text;
}

/** A length of days and hours, for what takes long. */
export function longDuration(minutes: number): string {
  const hours = Math.round(minutes / 60);
  return hours < 24 ? duration(minutes) : `${Math.floor(hours / 24)} d ${hours % 24} h`;
}

export const money = (currency: string, minor: number) => {
  const formatter = new Intl.NumberFormat(language, { style: 'currency', currency });
  return formatter.format(minor / 10 ** (formatter.resolvedOptions().maximumFractionDigits ?? 2));
};

export const minutesBetween = (from: string | number, to: string | number) =>
  (new Date(to).getTime() - new Date(from).getTime()) / 60_000;

export const shortDay = (localDate: string) =>
  format('UTC', { weekday: 'short', day: 'numeric', month: 'short' }, `${localDate}T12:00:00Z`);

/** The clock time of an instant in a zone as a time input takes it, HH:MM. */
export const localClockOf = (zone: string, at: string | number | Date) =>
  formatter('en-GB', zone, { hour: '2-digit', minute: '2-digit', hourCycle: 'h23' }).format(new Date(at));

/** Seconds as a clock face: 0:45, 12:05, 3:07:09. */
export function stopwatch(seconds: number): string {
  const whole = Math.floor(seconds);
  const two = (part: number) => String(part).padStart(2, '0');
  const hours = Math.floor(whole / 3_600);
  const minutes = Math.floor(whole / 60) % 60;
  return hours > 0 ? `${hours}:${two(minutes)}:${two(whole % 60)}` : `${minutes}:${two(whole % 60)}`;
}
