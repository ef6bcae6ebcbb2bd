import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { dewPointC } from '../../../src/trade/conditions/dew-point.ts';
import { judgeConditions } from '../../../src/trade/conditions/judge-conditions.ts';
import { sheet } from '../data-sheets.ts';

const mild = { airTempC: 20, relativeHumidityPercent: 50, panelTempC: 20 };

describe('conditions for coating', () => {
  it('are fit at 20 deg C, 50 % and a panel as warm as the air', () => {
    expect(judgeConditions(sheet, mild)).toEqual({ fit: true, reasons: [] });
  });

  it('are refused when the panel is less than 3 K above dew point (ISO 8502-4), and the figures are told', () => {
    // Air at 20 deg C and 70 % has its dew point at 14.4 deg C.
    const verdict = judgeConditions(sheet, { airTempC: 20, relativeHumidityPercent: 70, panelTempC: 17 });
    expect(verdict.fit).toBe(false);
    expect(verdict.reasons).toHaveLength(1);
    expect(verdict.reasons[0]!.limit).toBe(3);
    expect(verdict.reasons[0]!.value).toBeCloseTo(17 - 14.4, 1);
    expect(verdict.reasons[0]!.text).toBe('panel 17 °C over dew point 14.4 °C: margin 2.6 K, at least 3 K');
  });

  it('turn at exactly 3 K', () => {
    const dewC = dewPointC(20, 60);
    const at = (panelTempC: number) =>
      judgeConditions(sheet, { airTempC: 20, relativeHumidityPercent: 60, panelTempC }).fit;
    expect(at(dewC + 2.99)).toBe(false);
    expect(at(dewC + 3.01)).toBe(true);
  });

  it.each([
    ['too cold', { airTempC: 9, relativeHumidityPercent: 50 }, 'air 9 °C, at least 10 °C'],
    ['too hot', { airTempC: 31, relativeHumidityPercent: 50 }, 'air 31 °C, at most 30 °C'],
    ['too dry', { airTempC: 20, relativeHumidityPercent: 25 }, 'humidity 25 %, at least 30 %'],
    ['too damp', { airTempC: 20, relativeHumidityPercent: 75 }, 'humidity 75 %, at most 70 %'],
    ['a panel in the sun', { ...mild, panelTempC: 55 }, 'panel 55 °C, at most 40 °C'],
  ])('are refused when %s', (_, reading, text) => {
    expect(judgeConditions(sheet, reading).reasons.map((reason) => reason.text)).toEqual([text]);
  });

  it('count an unmeasured panel as warm as the air', () => {
    expect(judgeConditions(sheet, { ...mild, panelTempC: null })).toEqual(judgeConditions(sheet, mild));
  });

  it('never become fit by cooling the panel below the margin', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 10, max: 30 }),
        fc.integer({ min: 30, max: 70 }),
        fc.integer({ min: 0, max: 3 }),
        (airTempC, relativeHumidityPercent, marginK) => {
          const panelTempC = dewPointC(airTempC, relativeHumidityPercent) + marginK - 0.001;
          expect(judgeConditions(sheet, { airTempC, relativeHumidityPercent, panelTempC }).fit).toBe(false);
        },
      ),
      { seed: 2 },
    );
  });
});
