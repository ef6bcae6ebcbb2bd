import { expect, it } from 'vitest';
import { fitIntervals } from '../../../src/trade/conditions/fit-intervals.ts';
import { sheet } from '../data-sheets.ts';

const at = (minute: number, airTempC: number, relativeHumidityPercent = 50) => ({
  at: minute,
  conditions: { airTempC, relativeHumidityPercent },
});

it('a coating may be laid in the warm part of the day, across a change that stays inside the limits', () => {
  const steps = [at(0, 6), at(100, 12), at(200, 25), at(300, 34), at(400, 20), at(500, 20, 85)];
  expect(fitIntervals(sheet, steps, 1000)).toEqual([
    { from: 100, to: 300 },
    { from: 400, to: 500 },
  ]);
});

it('the last conditions hold until the horizon', () => {
  expect(fitIntervals(sheet, [at(0, 20)], 720)).toEqual([{ from: 0, to: 720 }]);
});
