import { expect, test } from 'vitest';
import { timeline } from '../../../src/shop/floor/timeline.ts';
import { estimateErrors } from '../../../src/shop/utilisation/estimates.ts';
import { revenueByRecipe } from '../../../src/shop/utilisation/revenue.ts';
import { weekUtilisation } from '../../../src/shop/utilisation/week.ts';
import type { FloorFact } from '../../../src/trade/model/job.ts';
import { at } from '../a-shop.ts';
import { aCar, minute, operation, people, place } from '../floor/a-car.ts';

/** A maintenance told for a Monday three weeks on, that came on this Monday and stood in bay 1 for two hours, until minute 130. */
async function toldForLater(end: FloorFact = { kind: 'pickedUp' }) {
  const car = await aCar('maintenance');
  const { deps, shopId, jobId } = car;
  const { value: job, version } = (await deps.store.jobs.get(shopId, jobId))!;
  const dropOffAt = at('2026-03-23T08:00+01:00');
  const promise = { pickupAt: at('2026-03-23T17:00+01:00'), givenAt: minute(0), confidencePercent: 90 };
  const told = { ...job, earliestDropOff: dropOffAt, dropOffAt, wantedPickupAt: promise.pickupAt, promise };
  await deps.store.jobs.put(shopId, told, version);
  await car.tell(10, { kind: 'arrived', placeId: place('bay1') });
  await car.done('maintenanceWash', 12, 80, 'cedar');
  await car.done('finalInspection', 90, 110, 'ash');
  await car.tell(130, end);
  car.setNow(minute(2 * 1440));
  return { ...car, week: { shopId, monday: '2026-03-02' as const }, told };
}

test('a car that came weeks before it was told brings its price to the week it left in, and to no other', async () => {
  const { deps, shopId, week, told } = await toldForLater();
  const { all } = await revenueByRecipe(deps, { ...week, weeks: 1 });
  expect(all).toMatchObject({ cars: 1, revenueMinor: told.priceMinor, bayMinutes: 120 });
  expect((await revenueByRecipe(deps, { shopId, monday: '2026-03-23', weeks: 1 })).all.cars).toBe(0);
});

test('its minutes, its work and its stay are those of the days it was there', async () => {
  const { deps, shopId, week } = await toldForLater();
  const { bays, people: workers } = await weekUtilisation(deps, week);
  const bay = bays.find(({ placeId }) => placeId === 'bay1')!;
  expect(bay.worked).toBe(68 + 20);
  expect(workers.find(({ technicianId }) => technicianId === 'cedar')!.worked).toBe(68);
  expect((await estimateErrors(deps, { ...week, weeks: 1 })).all!.records).toBe(2);
  const { places } = await timeline(deps, { shopId, date: '2026-03-02' });
  const stays = places.flatMap((each) => each.stays.map((stay) => [each.placeId, stay.from, stay.to]));
  expect(stays).toEqual([['bay1', minute(10), minute(130)]]);
});

test('its promise is due, and kept, in the week it was told for', async () => {
  const { deps, shopId, week } = await toldForLater();
  expect((await weekUtilisation(deps, week)).promises).toEqual({ due: 0, kept: 0, broken: 0, open: 0 });
  const later = await weekUtilisation(deps, { shopId, monday: '2026-03-23' });
  expect(later.promises).toEqual({ due: 1, kept: 1, broken: 0, open: 0 });
});

test('a car that was handed over left then, though nobody told of a pickup', async () => {
  const { deps, week } = await toldForLater({ kind: 'finished', operation: operation('handover') });
  expect((await revenueByRecipe(deps, { ...week, weeks: 1 })).all).toMatchObject({ cars: 1, bayMinutes: 120 });
});

test('a car that is here past its told pickup takes up its bay until now', async () => {
  const car = await aCar('maintenance');
  const { deps, shopId } = car;
  await car.tell(0, { kind: 'arrived', placeId: place('bay1') });
  await car.tell(5, { kind: 'started', operation: operation('maintenanceWash'), by: people('cedar') });
  // Eight in the morning of the next Monday: it was told for a day and has stood here for a week.
  car.setNow(minute(7 * 1440 + 60));
  const { bays } = await weekUtilisation(deps, { shopId, monday: '2026-03-09' });
  expect(bays.find(({ placeId }) => placeId === 'bay1')!.worked).toBe(60);
});
