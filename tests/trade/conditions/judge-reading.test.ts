import { describe, expect, it } from 'vitest';
import { judgeReading, readingBinds } from '../../../src/trade/conditions/judge-reading.ts';
import { ConditionsReading } from '../../../src/trade/model/readings.ts';
import type { Instant } from '../../../src/trade/model/time.ts';
import { sheet } from '../data-sheets.ts';

const now = Date.UTC(2026, 5, 1, 9) as Instant;
const minutesAgo = (minutes: number) => (now - minutes * 60_000) as Instant;
const reading = (change: object = {}) =>
  ConditionsReading.parse({
    airZoneId: 'hall',
    at: minutesAgo(10),
    source: 'measured',
    airTempC: 20,
    relativeHumidityPercent: 50,
    panelTempC: 20,
    jobId: null,
    ...change,
  });

describe('a reading', () => {
  it('binds for 60 minutes (common practice) and no longer', () => {
    expect(readingBinds(reading({ at: minutesAgo(59) }), now)).toBe(true);
    expect(readingBinds(reading({ at: minutesAgo(60) }), now)).toBe(false);
  });

  it('from the future does not bind', () => {
    expect(readingBinds(reading({ at: minutesAgo(-5) }), now)).toBe(false);
  });

  it('that is fresh and fit lets coating begin', () => {
    expect(judgeReading(sheet, reading(), now)).toEqual({ fit: true, reasons: [] });
  });

  it.each([
    ['stale', { at: minutesAgo(75) }, 'reading is 75 minutes old, at most 60'],
    ['a forecast', { source: 'forecast' }, 'reading is a forecast value, not measured'],
    ['without the panel', { panelTempC: null }, 'panel temperature was not measured'],
  ])('that is %s does not', (_, change, text) => {
    expect(judgeReading(sheet, reading(change), now).reasons.map((reason) => reason.text)).toEqual([text]);
  });

  it('that nobody took does not', () => {
    expect(judgeReading(sheet, null, now).fit).toBe(false);
  });
});
