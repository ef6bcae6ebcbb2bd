import { DateTime } from 'luxon';
import { z } from 'zod';
import { Instant } from '../../trade/model/time.ts';

const isoWithOffset = z.iso.datetime({
  offset: true,
  error: 'an ISO 8601 instant with an offset, such as 2026-03-02T08:00:00+01:00',
});

function instantIn(zone: string) {
  return z.codec(isoWithOffset, Instant, {
    decode: (text) => DateTime.fromISO(text).toMillis() as Instant,
    encode: (instant) => DateTime.fromMillis(instant, { zone }).toISO({ suppressMilliseconds: true }) as string,
  });
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
