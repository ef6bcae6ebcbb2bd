import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { minutesAt } from '../../../src/trade/cure/data-sheet-at.ts';
import { safeTimes } from '../../../src/trade/cure/safe-times.ts';
import { demo } from '../../seed/demo-shop.ts';
import { row, sheet } from '../data-sheets.ts';

const air = (airTempC: number, relativeHumidityPercent: number) => ({ airTempC, relativeHumidityPercent });

describe('safe times', () => {
  it('are the rows of the sheet at the conditions of the rows', () => {
    for (const one of sheet.rows) {
      const { tempC, relativeHumidityPercent, ...times } = one;
      expect(safeTimes(sheet, air(tempC, relativeHumidityPercent))).toEqual(times);
    }
  });

  it('between two rows lie at the geometric mean half-way, as an exponential rate asks', () => {
    // 120 min at 20 deg C and 60 min at 30: at 25 deg C, 120 / sqrt(2) = 84.85.
    expect(minutesAt(sheet, 'moveSafe', air(25, 60))).toBeCloseTo(84.85, 2);
    expect(safeTimes(sheet, air(25, 60)).moveSafeMinutes).toBe(85);
  });

  it("double for each 10 K below the coldest row (van 't Hoff), and are never shorter than the hottest row says", () => {
    expect(minutesAt(sheet, 'moveSafe', air(0, 60))).toBeCloseTo(2 * 240, 6);
    expect(minutesAt(sheet, 'moveSafe', air(45, 60))).toBeCloseTo(60, 6);
  });

  it('of a moisture-cured coating lengthen in air drier than its driest row below 40 %, of a solvent one do not', () => {
    expect(minutesAt(sheet, 'moveSafe', air(20, 17.5))).toBeCloseTo(2 * 180, 6);
    expect(minutesAt({ ...sheet, cure: 'solvent' }, 'moveSafe', air(20, 17.5))).toBeCloseTo(180, 6);
    const oneRow = { ...sheet, rows: [row(20, 60, 1)] };
    expect(minutesAt(oneRow, 'moveSafe', air(20, 45))).toBeCloseTo(120, 6);
    expect(minutesAt(oneRow, 'moveSafe', air(20, 20))).toBeCloseTo(240, 6);
  });

  it('go by the panel where it is known', () => {
    expect(minutesAt(sheet, 'moveSafe', { ...air(20, 60), panelTempC: 30 })).toBeCloseTo(60, 6);
  });

  it('are rounded to the careful side: a window opens late and closes early', () => {
    const times = safeTimes(sheet, air(23, 47));
    expect(times.recoatMinMinutes).toBeGreaterThanOrEqual(minutesAt(sheet, 'recoatMin', air(23, 47)));
    expect(times.recoatMaxMinutes).toBeLessThanOrEqual(minutesAt(sheet, 'recoatMax', air(23, 47)));
  });

  it('never lengthen when it gets hotter within the range of the rows, in the demo sheets too', () => {
    const temp = fc.double({ min: 10, max: 30, noNaN: true });
    for (const one of [sheet, ...demo.coatings.map((coating) => coating.dataSheet)]) {
      fc.assert(
        fc.property(temp, temp, fc.double({ min: 20, max: 80, noNaN: true }), (a, b, humidity) => {
          const cold = minutesAt(one, 'waterSafe', air(Math.min(a, b), humidity));
          const warm = minutesAt(one, 'waterSafe', air(Math.max(a, b), humidity));
          expect(warm).toBeLessThanOrEqual(cold + 1e-9);
        }),
        { seed: 3, numRuns: 60 },
      );
    }
  });

  it('of a moisture-cured coating never lengthen when the air gets damper', () => {
    const humidity = fc.double({ min: 5, max: 95, noNaN: true });
    fc.assert(
      fc.property(humidity, humidity, fc.double({ min: 0, max: 40, noNaN: true }), (a, b, tempC) => {
        const dry = minutesAt(sheet, 'fullCure', air(tempC, Math.min(a, b)));
        expect(minutesAt(sheet, 'fullCure', air(tempC, Math.max(a, b)))).toBeLessThanOrEqual(dry + 1e-9);
      }),
      { seed: 4 },
    );
  });
});
