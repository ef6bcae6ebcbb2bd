import { DateTime } from 'luxon';
import { describe, expect, test } from 'vitest';
import { z } from 'zod';
import { WireInstant, wireInstantIn } from '../../../src/api/wire/instant.ts';
import type { Instant } from '../../../src/trade/model/time.ts';

const QUARTER_MS = 15 * 60_000;
const DAY_MS = 96 * QUARTER_MS;

describe('instants written in a zone', () => {
  // Reference: Luxon, which asks the zone each time. Lord Howe moves by half an hour, Chatham and Kathmandu stand on a
  // quarter; London is on UTC in winter and still no "Z".
  test.each(['utc', 'Europe/London', 'Europe/Berlin', 'Australia/Lord_Howe', 'Pacific/Chatham', 'Asia/Kathmandu'])(
    'read as a calendar library writes them in %s, to the millisecond around every change of a year',
    (zone) => {
      const offset = (at: number) => DateTime.fromMillis(at, { zone }).offset;
      let changes = 0;
      for (let day = Date.UTC(2026, 0, 1); day < Date.UTC(2027, 0, 1); day += DAY_MS) {
        const changing = offset(day) !== offset(day + DAY_MS);
        if (changing) changes++;
        for (let at = day; at < day + DAY_MS; at += changing ? QUARTER_MS : DAY_MS / 2) {
          for (const instant of [at - 1, at, at + 1000] as Instant[]) {
            const expected = DateTime.fromMillis(instant, { zone }).toISO({ suppressMilliseconds: true });
            expect(z.encode(wireInstantIn(zone), instant)).toBe(expected);
          }
        }
      }
      expect(changes).toBe(zone === 'utc' || zone === 'Asia/Kathmandu' ? 0 : 2);
    },
  );

  test('what is the year 10000 in some zone is refused on the way in, since it could not be written on the way out', () => {
    for (const text of ['9999-12-31T23:59:59-23:59', '9999-12-30T00:00:00Z']) {
      expect(z.safeDecode(WireInstant, text).error?.issues[0]?.message).toContain('9999');
    }
    const last = z.decode(WireInstant, '9999-12-29T23:59:59Z');
    expect(z.encode(wireInstantIn('Pacific/Kiritimati'), last)).toBe('9999-12-30T13:59:59+14:00');
  });
});
