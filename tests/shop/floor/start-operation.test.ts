import { describe, expect, test } from 'vitest';
import { listExceptions } from '../../../src/shop/planning/desk-exceptions.ts';
import { GateShut } from '../../../src/shop/problems/problems.ts';
import { ConditionsReading } from '../../../src/trade/model/readings.ts';
import { aCar, aWipedCar, type Car, minute, operation, people, place } from './a-car.ts';

async function rulesAgainst(start: Promise<unknown>): Promise<string[]> {
  const problem = await start.then(
    () => null,
    (error: unknown) => error,
  );
  if (problem === null) return [];
  expect(problem).toBeInstanceOf(GateShut);
  return (problem as GateShut).objections.map((each) => each.rule);
}

/** Readings of the room where the car stands. */
async function read(car: Car, atMinute: number, values: Partial<ConditionsReading> = {}): Promise<void> {
  const { value } = (await car.deps.store.places.get(car.shopId, place('bay3')))!;
  const reading = ConditionsReading.parse({
    airZoneId: value.airZoneId,
    at: minute(atMinute),
    source: 'measured',
    airTempC: 20,
    relativeHumidityPercent: 50,
    panelTempC: 19,
    jobId: null,
    ...values,
  });
  await car.deps.store.readings.append(car.shopId, reading);
}

describe('work is refused', () => {
  test('before the car has come', async () => {
    const car = await aCar();
    expect(await rulesAgainst(car.start(5, 'wheels', 'cedar'))).toContain('carMissing');
  });

  test('out of the order of the recipe', async () => {
    const car = await aCar();
    await car.tell(0, { kind: 'arrived', placeId: place('bay1') });
    expect(await rulesAgainst(car.start(5, 'wheels', 'cedar'))).toContain('order');
  });

  test('before a hold point is passed: nothing is masked before the inspection on clean paint', async () => {
    const car = await aCar();
    await car.tell(0, { kind: 'arrived', placeId: place('bay3') });
    await car.done('intake', 1, 20, 'ash');
    expect(await rulesAgainst(car.start(30, 'inspection', 'ash'))).toContain('order');
    expect(await rulesAgainst(car.start(30, 'blowDry', 'cedar'))).toContain('holdPoint.decontaminated');
  });

  test('while a remover still dwells', async () => {
    const car = await aCar();
    await car.tell(0, { kind: 'arrived', placeId: place('bay1') });
    await car.done('intake', 1, 20, 'ash');
    await car.done('wheels', 20, 60, 'cedar');
    await car.done('ironTarSpray', 60, 65, 'cedar');
    expect(await rulesAgainst(car.start(66, 'ironTarRinse', 'cedar'))).toEqual(['tooEarly']);
    expect(await rulesAgainst(car.start(68, 'ironTarRinse', 'cedar'))).toEqual([]);
  });

  test('in a place that has not what the work needs', async () => {
    const car = await aCar();
    await car.tell(0, { kind: 'arrived', placeId: place('bay3') });
    await car.done('intake', 1, 20, 'ash');
    expect(await rulesAgainst(car.start(30, 'wheels', 'cedar'))).toEqual(['wrongPlace']);
  });

  test('to hands that are full, and to too few of them', async () => {
    const car = await aCar();
    await car.tell(0, { kind: 'arrived', placeId: place('bay1') });
    await car.tell(1, { kind: 'started', operation: operation('intake'), by: people('ash') });
    expect(await rulesAgainst(car.start(10, 'wheels', 'ash'))).toContain('busy');
    expect(await rulesAgainst(car.start(10, 'wheels'))).toContain('crew');
  });
});

describe('coating is refused', () => {
  test('on a wipe that has gone stale, until the car was wiped again', async () => {
    const car = await aWipedCar();
    await read(car, 555);
    await read(car, 600);
    expect(await rulesAgainst(car.start(561, 'coat', 'birch'))).toEqual(['window']);
    await car.done('rewipe', 561, 590, 'birch');
    expect(await rulesAgainst(car.start(601, 'coat', 'birch'))).toEqual([]);
  });

  test('before the solvent has flashed off', async () => {
    const car = await aWipedCar();
    await read(car, 500);
    expect(await rulesAgainst(car.start(505, 'coat', 'birch'))).toContain('tooEarly');
  });

  test('without a reading, on one older than an hour, and on a panel not measured', async () => {
    const car = await aWipedCar();
    expect(await rulesAgainst(car.start(515, 'coat', 'birch'))).toEqual(['conditions']);
    await read(car, 455);
    expect(await rulesAgainst(car.start(515, 'coat', 'birch'))).toEqual(['conditions']);
    await read(car, 514, { panelTempC: null });
    expect(await rulesAgainst(car.start(515, 'coat', 'birch'))).toEqual(['conditions']);
  });

  test('on a panel less than 3 K above the dew point, with the figures', async () => {
    // ISO 8502-4: at least 3 K. Air of 20 °C at 70 % has its dew point at 14.4 °C (Magnus form, WMO Guide No. 8).
    const car = await aWipedCar();
    await read(car, 514, { relativeHumidityPercent: 70, panelTempC: 16 });
    await expect(car.start(515, 'coat', 'birch')).rejects.toThrow(/dew point 14\.4 °C/);
  });

  test('to somebody without a certificate, and to somebody whose certificate has expired', async () => {
    const car = await aWipedCar();
    await read(car, 514);
    expect(await rulesAgainst(car.start(515, 'coat', 'hornbeam'))).toEqual(['skill', 'certificate']);
    const birch = (await car.deps.store.technicians.get(car.shopId, people('birch')[0]!))!;
    const certificates = birch.value.certificates.map((each) => ({ ...each, expiresOn: '2026-03-01' }));
    await car.deps.store.technicians.put(car.shopId, { ...birch.value, certificates }, birch.version);
    await expect(car.start(515, 'coat', 'birch')).rejects.toThrow(/expired on 2026-03-01; today is 2026-03-02/);
  });

  test('never, when every gate is open', async () => {
    const car = await aWipedCar();
    await read(car, 514);
    const { fresh, exceptions } = await car.start(515, 'coat', 'birch');
    expect(fresh).toBe(true);
    expect(exceptions).toEqual([]);
    expect(await listExceptions(car.deps, { shopId: car.shopId })).toEqual([]);
  });
});
