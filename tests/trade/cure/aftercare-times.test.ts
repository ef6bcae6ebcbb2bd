import { describe, expect, test } from 'vitest';
import { aftercareTimes } from '../../../src/trade/cure/aftercare-times.ts';
import type { DataSheet } from '../../../src/trade/model/coating.ts';
import type { Instant } from '../../../src/trade/model/time.ts';
import { coating } from '../../api/a-shop.ts';

const at = (text: string) => Date.parse(text) as Instant;
const room = { airTempC: 20, relativeHumidityPercent: 50 };
/** Water-safe after 12 h, fully cured after 7 days at 20 deg C and 50 %, as the sheet's own row says. */
const sheet: DataSheet = coating.dataSheet;

describe('what a customer keeps to after pickup', () => {
  test('dry until the sheet says water-safe, no wash for 7 and better 14 days (common practice), hard at full cure', () => {
    const times = aftercareTimes([{ sheet, laidAt: at('2026-03-02T10:00Z'), air: [room] }]);
    expect(times).toEqual({
      dryUntil: at('2026-03-02T22:00Z'),
      noWashUntil: at('2026-03-09T10:00Z'),
      betterNoWashUntil: at('2026-03-16T10:00Z'),
      fullyCuredAt: at('2026-03-09T10:00Z'),
    });
  });

  test('times are told at the full hour after, never before', () => {
    const times = aftercareTimes([{ sheet, laidAt: at('2026-03-02T10:01Z'), air: [room] }]);
    expect(times?.dryUntil).toBe(at('2026-03-02T23:00Z'));
  });

  test('of several layers the last to cure counts', () => {
    const first = { sheet, laidAt: at('2026-03-02T10:00Z'), air: [room] } as const;
    const slow: DataSheet = { ...sheet, rows: sheet.rows.map((row) => ({ ...row, waterSafeMinutes: 2_880 })) };
    const times = aftercareTimes([
      { ...first, sheet: slow },
      { ...first, laidAt: at('2026-03-03T10:00Z') },
    ]);
    expect(times?.dryUntil).toBe(at('2026-03-04T10:00Z'));
    expect(times?.noWashUntil).toBe(at('2026-03-10T10:00Z'));
  });

  test('of several airs the slowest counts: ten kelvins colder take twice as long (van ’t Hoff’s rule)', () => {
    const cold = { airTempC: 10, relativeHumidityPercent: 50 };
    const times = aftercareTimes([{ sheet, laidAt: at('2026-03-02T10:00Z'), air: [room, cold] }]);
    expect(times?.dryUntil).toBe(at('2026-03-03T10:00Z'));
    expect(times?.fullyCuredAt).toBe(at('2026-03-16T10:00Z'));
  });

  test('a wash is never allowed before a slow coating is water-safe', () => {
    const slow: DataSheet = { ...sheet, rows: sheet.rows.map((row) => ({ ...row, waterSafeMinutes: 20 * 1_440 })) };
    const times = aftercareTimes([{ sheet: slow, laidAt: at('2026-03-02T10:00Z'), air: [room] }]);
    expect(times?.noWashUntil).toBe(at('2026-03-22T10:00Z'));
  });

  test('a car without a coating has nothing to keep to', () => {
    expect(aftercareTimes([])).toBeNull();
  });
});
