import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Progress } from '../../../src/engine/problem/problem.ts';
import { cureProgress, cureWork } from '../../../src/trade/cure/cure-progress.ts';
import { minutesAt } from '../../../src/trade/cure/data-sheet-at.ts';
import { sheet } from '../data-sheets.ts';

const air = (airTempC: number, relativeHumidityPercent = 60) => ({ airTempC, relativeHumidityPercent });

/** Minute by minute, from the definition of progress: the first t with P(t) - P(0) >= work. */
function endByHand(progress: Progress, work: number): number {
  let done = 0;
  for (let t = 0; ; t++) {
    if (done >= work) return t;
    const k = progress.at.findLastIndex((at) => at <= t);
    done += k < 0 ? 0 : progress.rate[k]!;
  }
}

describe('the progress of a cure', () => {
  it('under steady conditions takes the minutes of the sheet, to one part in five hundred', () => {
    for (const tempC of [10, 15, 20, 27, 30]) {
      const end = endByHand(
        cureProgress(sheet, 'waterSafe', [{ at: 0, conditions: air(tempC) }]),
        cureWork(sheet, 'waterSafe'),
      );
      const minutes = minutesAt(sheet, 'waterSafe', air(tempC));
      expect(end).toBeGreaterThanOrEqual(Math.floor(minutes));
      expect(end).toBeLessThanOrEqual(minutes * 1.002 + 1);
    }
  });

  it('is the sum of dt over cure time: half of it warm and half of it cold', () => {
    // At 60 %: 120 minutes at 20 deg C, 240 at 10. After 60 warm minutes half is left, 120 cold minutes: ends at 180.
    const progress = cureProgress(sheet, 'moveSafe', [
      { at: 0, conditions: air(20) },
      { at: 60, conditions: air(10) },
    ]);
    const end = endByHand(progress, cureWork(sheet, 'moveSafe'));
    expect(end).toBeGreaterThanOrEqual(180);
    expect(end).toBeLessThanOrEqual(181);
  });

  it('never stands still, however cold it is, so that every plan ends', () => {
    const progress = cureProgress(sheet, 'fullCure', [{ at: 0, conditions: air(-40, 1) }]);
    expect(progress.rate[0]).toBeGreaterThanOrEqual(1);
  });

  it('is in whole thousandths, at times that rise, with neighbours that differ', () => {
    const step = fc.record({ temp: fc.integer({ min: -10, max: 40 }), humidity: fc.integer({ min: 5, max: 95 }) });
    fc.assert(
      fc.property(fc.array(step, { minLength: 1, maxLength: 20 }), (weather) => {
        const { at, rate } = cureProgress(
          sheet,
          'fullCure',
          weather.map(({ temp, humidity }, hour) => ({ at: 60 * hour, conditions: air(temp, humidity) })),
        );
        expect(at).toHaveLength(rate.length);
        expect(at[0]).toBe(0);
        for (let k = 0; k < at.length; k++) {
          expect(Number.isInteger(rate[k])).toBe(true);
          if (k > 0) expect(at[k]).toBeGreaterThan(at[k - 1]!);
          if (k > 0) expect(rate[k]).not.toBe(rate[k - 1]);
        }
      }),
      { seed: 5 },
    );
  });
});
