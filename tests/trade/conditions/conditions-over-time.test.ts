import { describe, expect, it } from 'vitest';
import { conditionsOverTime } from '../../../src/trade/conditions/conditions-over-time.ts';
import { ConditionsReading } from '../../../src/trade/model/readings.ts';
import type { Instant } from '../../../src/trade/model/time.ts';

const now = Date.UTC(2026, 5, 1, 9) as Instant;
const hours = (n: number) => n * 3_600_000;
const setPoint = { airTempC: 20, relativeHumidityPercent: 50 };
const reading = (source: string, at: number, airTempC: number) =>
  ConditionsReading.parse({
    airZoneId: 'hall',
    at: now + at,
    source,
    airTempC,
    relativeHumidityPercent: 50,
    panelTempC: null,
    jobId: null,
  });
const told = (readings: ConditionsReading[]) =>
  conditionsOverTime(setPoint, readings, now).map((step) => [
    (step.at - now) / hours(1),
    step.source,
    step.conditions.airTempC,
    step.provisional,
  ]);

describe('expected conditions', () => {
  it('are the set point without readings, provisional from 48 hours on', () => {
    expect(told([])).toEqual([
      [0, 'setPoint', 20, false],
      [48, 'setPoint', 20, true],
    ]);
  });

  it('follow what was measured for an hour, then the forecast, then the set point', () => {
    expect(
      told([reading('measured', -hours(0.5), 18), reading('forecast', 0, 22), reading('forecast', hours(3), 24)]),
    ).toEqual([
      [0, 'measured', 18, false],
      [0.5, 'forecast', 22, false],
      [3, 'forecast', 24, false],
      [6, 'setPoint', 20, false],
      [48, 'setPoint', 20, true],
    ]);
  });

  it('on a monthly normal are provisional beyond 48 hours, on a forecast never', () => {
    expect(told([reading('normal', -hours(24), 12), reading('forecast', hours(47), 15)])).toEqual([
      [0, 'normal', 12, false],
      [47, 'forecast', 15, false],
      [50, 'normal', 12, true],
      [720, 'setPoint', 20, true],
    ]);
  });

  it('take the newer of two measured readings', () => {
    expect(told([reading('measured', -hours(0.5), 18), reading('measured', -hours(0.25), 19)])[0]).toEqual([
      0,
      'measured',
      19,
      false,
    ]);
  });
});

it('the panel temperature of one car is not taken for the panels of another', () => {
  const onOneCar = { ...reading('measured', 0, 20), panelTempC: 35 };
  expect(conditionsOverTime(setPoint, [onOneCar], now)[0]!.conditions.panelTempC).toBe(35);
  const jobId = 'jobOne' as ConditionsReading['jobId'];
  expect(conditionsOverTime(setPoint, [{ ...onOneCar, jobId }], now)[0]!.conditions.panelTempC).toBeUndefined();
});
