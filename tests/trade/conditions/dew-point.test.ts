import fc from 'fast-check';
import psychrolib from 'psychrolib';
import { describe, expect, it } from 'vitest';
import { dewPointC, saturationPressureHPa } from '../../../src/trade/conditions/dew-point.ts';

psychrolib.SetUnitSystem(psychrolib.SI);

const grid: [airTempC: number, humidity: number][] = [];
for (let airTempC = -10; airTempC <= 45; airTempC++) {
  for (let humidity = 5; humidity <= 100; humidity += 5) grid.push([airTempC, humidity]);
}

describe('the dew point', () => {
  it('agrees within 0.05 K with the ASHRAE Handbook (psychrolib), -10 to 45 deg C, wherever it lies above freezing', () => {
    let compared = 0;
    for (const [airTempC, humidity] of grid) {
      const reference = psychrolib.GetTDewPointFromRelHum(airTempC, humidity / 100);
      if (airTempC <= 0 || reference < 0) continue;
      compared++;
      expect(Math.abs(dewPointC(airTempC, humidity) - reference)).toBeLessThan(0.05);
    }
    expect(compared).toBeGreaterThan(600);
  });

  it('lies below the frost point that the Handbook gives under 0 deg C, by at most an eighth of its distance from zero', () => {
    // Over ice the reference follows the heat of sublimation, 2834 against 2501 kJ/kg: a factor of 1.13.
    let compared = 0;
    for (const [airTempC, humidity] of grid) {
      const frostC = psychrolib.GetTDewPointFromRelHum(airTempC, humidity / 100);
      if (airTempC <= 0 || frostC >= 0) continue;
      compared++;
      const dewC = dewPointC(airTempC, humidity);
      expect(dewC).toBeLessThan(frostC + 0.05);
      expect(frostC - dewC).toBeLessThan(-dewC / 8 + 0.05);
    }
    expect(compared).toBeGreaterThan(100);
  });

  it('agrees within 0.15 K with the Magnus coefficients of the WMO Guide No. 8 over water, over the whole grid', () => {
    // 6.112 hPa, 17.62, 243.12 deg C (WMO-No. 8, Annex 4.B, for -45 to 60 deg C; from memory).
    for (const [airTempC, humidity] of grid) {
      const gamma = Math.log(humidity / 100) + (17.62 * airTempC) / (243.12 + airTempC);
      const reference = (243.12 * gamma) / (17.62 - gamma);
      expect(Math.abs(dewPointC(airTempC, humidity) - reference)).toBeLessThan(0.15);
    }
  });

  // Rounded values as dew-point tables for steelwork print them (ISO 8502-4 and handbooks; from memory).
  it.each([
    [10, 50, 0.1],
    [15, 60, 7.3],
    [20, 50, 9.3],
    [20, 70, 14.4],
    [20, 80, 16.4],
    [25, 50, 13.9],
    [25, 60, 16.7],
    [25, 80, 21.3],
    [30, 50, 18.4],
    [30, 70, 23.9],
  ])('of air at %d deg C and %d %% is %d deg C in the printed tables', (airTempC, humidity, dewC) => {
    expect(Math.abs(dewPointC(airTempC, humidity) - dewC)).toBeLessThan(0.1);
  });

  it('is the air temperature when the air is saturated, and falls as the air dries', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -40, max: 50, noNaN: true }),
        fc.integer({ min: 1, max: 99 }),
        (airTempC, humidity) => {
          expect(dewPointC(airTempC, 100)).toBeCloseTo(airTempC, 9);
          expect(dewPointC(airTempC, humidity)).toBeLessThan(dewPointC(airTempC, humidity + 1));
        },
      ),
      { seed: 1 },
    );
  });

  it.each([0, -1, 101, Number.NaN])('refuses a humidity of %d %% and names the field', (humidity) => {
    expect(() => dewPointC(20, humidity)).toThrow(/relativeHumidityPercent/);
  });
});

it('saturation pressure agrees within 0.4 % with the ASHRAE Handbook from 1 to 45 deg C, as its authors state', () => {
  for (let tempC = 1; tempC <= 45; tempC++) {
    const referenceHPa = psychrolib.GetSatVapPres(tempC) / 100;
    expect(Math.abs(saturationPressureHPa(tempC) / referenceHPa - 1)).toBeLessThan(0.004);
  }
});
