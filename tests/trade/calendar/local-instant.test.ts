import { DateTime } from 'luxon';
import { describe, expect, it } from 'vitest';
import { addDays, dayStart, localDate, localInstant } from '../../../src/trade/calendar/local-instant.ts';
import type { Instant } from '../../../src/trade/model/time.ts';

const utc = (iso: string) => Date.parse(iso) as Instant;

// Directive 2000/84/EC: summer time begins on the last Sunday of March and ends on the last Sunday of October, at
// 01:00 UTC. In 2026: 29 March and 25 October.
describe('Berlin, 2026', () => {
  const zone = 'Europe/Berlin';

  it('puts an ordinary wall-clock time at its offset from UTC', () => {
    expect(localInstant('2026-01-15', '08:00', zone, 'start')).toBe(utc('2026-01-15T07:00Z'));
    expect(localInstant('2026-07-15', '08:00', zone, 'start')).toBe(utc('2026-07-15T06:00Z'));
  });

  it('moves a time that does not exist forward to the change of clocks, for starts and ends alike', () => {
    for (const edge of ['start', 'end'] as const) {
      expect(localInstant('2026-03-29', '02:00', zone, edge)).toBe(utc('2026-03-29T01:00Z'));
      expect(localInstant('2026-03-29', '02:30', zone, edge)).toBe(utc('2026-03-29T01:00Z'));
      expect(localInstant('2026-03-29', '03:00', zone, edge)).toBe(utc('2026-03-29T01:00Z'));
      expect(localInstant('2026-03-29', '03:15', zone, edge)).toBe(utc('2026-03-29T01:15Z'));
    }
  });

  it('takes of a repeated hour the first occurrence for a start and the last for an end', () => {
    expect(localInstant('2026-10-25', '02:30', zone, 'start')).toBe(utc('2026-10-25T00:30Z'));
    expect(localInstant('2026-10-25', '02:30', zone, 'end')).toBe(utc('2026-10-25T01:30Z'));
    expect(localInstant('2026-10-25', '03:00', zone, 'start')).toBe(utc('2026-10-25T02:00Z'));
  });

  it('gives the day of the change 23 or 25 hours', () => {
    expect(dayStart('2026-03-30', zone) - dayStart('2026-03-29', zone)).toBe(23 * 3_600_000);
    expect(dayStart('2026-10-26', zone) - dayStart('2026-10-25', zone)).toBe(25 * 3_600_000);
  });
});

// Energy Policy Act of 2005, section 110: from the second Sunday of March to the first Sunday of November, at
// 02:00 local time. In 2026: 8 March and 1 November.
describe('New York, 2026', () => {
  const zone = 'America/New_York';

  it('moves a time that does not exist forward to the change of clocks', () => {
    expect(localInstant('2026-03-08', '02:30', zone, 'start')).toBe(utc('2026-03-08T07:00Z'));
    expect(localInstant('2026-03-08', '03:00', zone, 'start')).toBe(utc('2026-03-08T07:00Z'));
    expect(localInstant('2026-03-08', '01:59', zone, 'start')).toBe(utc('2026-03-08T06:59Z'));
  });

  it('takes of a repeated hour the first occurrence for a start and the last for an end', () => {
    expect(localInstant('2026-11-01', '01:30', zone, 'start')).toBe(utc('2026-11-01T05:30Z'));
    expect(localInstant('2026-11-01', '01:30', zone, 'end')).toBe(utc('2026-11-01T06:30Z'));
  });
});

it('begins a day whose midnight does not exist at the change of clocks', () => {
  // Cairo: Law 24 of 2023, summer time from the last Friday of April, 00:00: 24 April 2026 begins at 01:00.
  expect(dayStart('2026-04-24', 'Africa/Cairo')).toBe(utc('2026-04-23T22:00Z'));
});

it('agrees with luxon on every hour of a year outside the changes of clocks', () => {
  for (const zone of ['Europe/Berlin', 'America/New_York', 'Asia/Kolkata', 'Pacific/Auckland']) {
    let compared = 0;
    for (let day = 0; day < 365; day++) {
      const date = addDays('2026-01-01', day);
      if (dayStart(addDays(date, 1), zone) - dayStart(date, zone) !== 24 * 3_600_000) continue;
      for (const time of ['00:00', '05:45', '12:00', '23:59']) {
        const expected = DateTime.fromISO(`${date}T${time}`, { zone }).toMillis();
        expect(localInstant(date, time, zone, 'start')).toBe(expected);
        expect(localDate(expected as Instant, zone)).toBe(date);
        compared++;
      }
    }
    expect(compared).toBeGreaterThan(1400);
  }
});

it('refuses a zone that nobody has defined', () => {
  expect(() => localInstant('2026-01-01', '08:00', 'Nowhere/Atlantis', 'start')).toThrow(/timeZone "Nowhere/);
});
