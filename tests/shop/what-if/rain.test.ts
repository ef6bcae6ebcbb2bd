import { describe, expect, test } from 'vitest';
import { book } from '../../../src/shop/booking/book.ts';
import { publish } from '../../../src/shop/planning/publish.ts';
import { whatIfItRains } from '../../../src/shop/what-if/rain.ts';
import { localDate } from '../../../src/trade/calendar/local-instant.ts';
import { safeTimes } from '../../../src/trade/cure/safe-times.ts';
import { PlaceId } from '../../../src/trade/model/ids.ts';
import type { Instant } from '../../../src/trade/model/time.ts';
import { demo } from '../../seed/demo-shop.ts';
import { aRequest } from '../a-request.ts';
import { aShop, at } from '../a-shop.ts';

const TUESDAY_9 = at('2026-03-03T09:00+01:00');
const zone = demo.shop.timeZone;
const YARD = PlaceId.parse('yard1');
const HOUR = 3_600_000;

/** A car booked for one layer, and its coating as the plan has it. */
async function coatedCar() {
  const { deps, shopId } = await aShop();
  const request = aRequest('oneLayerCeramic');
  const view = await book(deps, { shopId, request, dropOffAt: TUESDAY_9, pickupAt: null, depositNote: '' });
  const coat = view.operations.find(({ kind }) => kind === 'coatLayer')!;
  const recipe = demo.recipes.find(({ id }) => id === request.recipeId)!;
  const { coatingId } = recipe.steps.find(({ kind }) => kind === 'coatLayer')!;
  const coating = demo.coatings.find(({ id }) => id === coatingId)!;
  const room = demo.places.find(({ id }) => id === coat.placeId)!.airZoneId;
  const air = demo.airZones.find(({ id }) => id === room)!.setPoint;
  const waterSafeAt = coat.end + safeTimes(coating.dataSheet, air).waterSafeMinutes * 60_000;
  return { deps, shopId, view, coat, waterSafeAt };
}

describe('when it will rain', () => {
  test('a car that waits in the yard before its wash may get wet, and a free roof is named', async () => {
    const { deps, shopId, view } = await coatedCar();
    const standingPlan = (await deps.store.plans.current(shopId))!;
    const [first, ...others] = standingPlan.stays;
    const plan = { ...standingPlan, stays: [{ ...first!, placeId: YARD }, ...others] };
    const expectedVersion = standingPlan.version;
    await publish(deps.store, { shopId, plan, expectedVersion, jobs: [view.job], exceptions: [] }, TUESDAY_9);
    const day = localDate(first!.from, zone);
    const rain = await whatIfItRains(deps, { shopId, day, outside: null });
    const standing = rain.cars.find(({ how }) => how === 'stands')!;
    expect(standing).toMatchObject({ verdict: 'getsWet', placeId: YARD, waterSafeAt: null });
    expect(standing.todo).toMatch(/is free all that time/);
    expect(rain.coatings).toEqual([]);
  });

  test('a coated car that would stand outside before it is water-safe must stay dry until the data sheet’s hour', async () => {
    const { deps, shopId, view, coat, waterSafeAt } = await coatedCar();
    const standing = (await deps.store.plans.current(shopId))!;
    const out = (coat.end + HOUR) as Instant;
    const plan = {
      ...standing,
      stays: [
        ...standing.stays
          .filter(({ from }) => from < coat.end)
          .map((each) => ({ ...each, to: Math.min(each.to, out) as Instant })),
        { jobId: view.job.id, placeId: YARD, from: out, to: (out + HOUR) as Instant },
      ],
    };
    const { version } = standing;
    await publish(deps.store, { shopId, plan, expectedVersion: version, jobs: [view.job], exceptions: [] }, TUESDAY_9);
    const rain = await whatIfItRains(deps, { shopId, day: localDate(out, zone), outside: null });
    expect(rain.cars[0]).toMatchObject({ verdict: 'mustStayDry', how: 'stands', from: out, waterSafeAt });
    expect(rain.cars[0]!.todo).toMatch(/not water-safe before .*bring it under a roof/);
  });

  test('coatings planned that day are judged in the outside air asked about: fit at 20 °C and 50 %, not at 92 %', async () => {
    const { deps, shopId, coat } = await coatedCar();
    const day = localDate(coat.start, zone);
    const mild = { airTempC: 20, relativeHumidityPercent: 50 };
    expect((await whatIfItRains(deps, { shopId, day, outside: mild })).coatings).toEqual([]);
    const damp = { airTempC: 20, relativeHumidityPercent: 92 };
    const { coatings } = await whatIfItRains(deps, { shopId, day, outside: damp });
    expect(coatings.length).toBeGreaterThan(0);
    expect(coatings[0]).toContain('humidity 92 %');
  });

  test('a day without cars needs nothing', async () => {
    const { deps, shopId } = await coatedCar();
    const day = localDate(at('2026-03-29T12:00+01:00'), zone);
    expect(await whatIfItRains(deps, { shopId, day, outside: null })).toMatchObject({ cars: [], sheltered: 0 });
  });
});
