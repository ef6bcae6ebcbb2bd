import { DateTime, IANAZone } from 'luxon';
import { z } from 'zod';
import { Instant } from '../../trade/model/time.ts';

const isoWithOffset = z.iso.datetime({
  offset: true,
  error: 'an ISO 8601 instant with an offset, such as 2026-03-02T08:00:00+01:00',
});

/** Later ones are in some zone of the year 10000, which ISO 8601 writes otherwise. */
const LATEST_MS = Date.UTC(9999, 11, 30);

const MINUTE_MS = 60_000;
/** Clocks change on the quarter hour of UTC at the finest, everywhere since 1972 (tz database). */
const OFFSET_HOLDS_MS = 15 * MINUTE_MS;
/** Quarter hours remembered before all are forgotten: some two years of them. */
const MOST_REMEMBERED = 70_000;

function instantIn(zone: string) {
  const textOf = zone === 'utc' ? utcText : textsIn(zone);
  return z.codec(isoWithOffset, Instant, {
    decode: (text, context) => {
      const instant = DateTime.fromISO(text).toMillis();
      if (instant < LATEST_MS) return instant as Instant;
      context.issues.push({ code: 'custom', input: text, message: 'must lie before the last days of the year 9999' });
      return z.NEVER;
    },
    encode: textOf,
  });
}

/** Writes instants in a zone. A plan has tens of thousands of them, and asking the zone each time is slow. */
function textsIn(zone: string): (instant: number) => string {
  const known = new Map<number, number>();
  const asked = IANAZone.create(zone);
  return (instant) => {
    const quarter = Math.floor(instant / OFFSET_HOLDS_MS);
    let offset = known.get(quarter);
    if (offset === undefined) {
      offset = Math.trunc(asked.offset(quarter * OFFSET_HOLDS_MS));
      if (known.size >= MOST_REMEMBERED) known.clear();
      known.set(quarter, offset);
    }
    return utcText(instant + offset * MINUTE_MS).slice(0, -1) + offsetText(offset);
  };
}

function utcText(instant: number): string {
  const text = new Date(instant).toISOString();
  return text.endsWith('.000Z') ? `${text.slice(0, -5)}Z` : text;
}

function offsetText(minutes: number): string {
  const two = (number: number) => String(number).padStart(2, '0');
  const ahead = Math.abs(minutes);
  return `${minutes < 0 ? '-' : '+'}${two(Math.floor(ahead / 60))}:${two(ahead % 60)}`;
}

/** An instant as the API writes it: ISO 8601 with an offset outside, milliseconds since 1970 inside. */
export const WireInstant = instantIn('utc');

const byZone = new Map<string, typeof WireInstant>();

/** The same, written with the offset of an IANA zone. */
export function wireInstantIn(zone: string): typeof WireInstant {
  let codec = byZone.get(zone);
  if (!codec) {
    codec = instantIn(zone);
    byZone.set(zone, codec);
  }
  return codec;
}
