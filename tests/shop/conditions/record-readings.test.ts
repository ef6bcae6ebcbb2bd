import { describe, expect, test } from 'vitest';
import { book } from '../../../src/shop/booking/book.ts';
import { listReadings, recordReadings } from '../../../src/shop/conditions/record-readings.ts';
import { replan } from '../../../src/shop/planning/replan.ts';
import { Invalid } from '../../../src/shop/problems/problems.ts';
import { ConditionsReading } from '../../../src/trade/model/readings.ts';
import type { Instant } from '../../../src/trade/model/time.ts';
import { aRequest } from '../a-request.ts';
import { aShop, MONDAY_8 } from '../a-shop.ts';

/** A shop with one coating of one layer booked from Monday on, and where and when it is to be laid. */
async function withOneCoating() {
  const shop = await aShop();
  const { deps, shopId } = shop;
  const sold = { shopId, request: aRequest('oneLayerCeramic'), pickupAt: null, depositNote: '' };
  const { operations } = await book(deps, { ...sold, dropOffAt: MONDAY_8 });
  const coat = operations.find((each) => each.operation === 'coat')!;
  const { value: bay } = (await deps.store.places.get(shopId, coat.placeId!))!;
  const forecast = (at: Instant, airTempC: number) =>
    ConditionsReading.parse({
      airZoneId: bay.airZoneId,
      at,
      source: 'forecast',
      airTempC,
      relativeHumidityPercent: 50,
      panelTempC: null,
      jobId: null,
    });
  return { ...shop, coat, forecast };
}

describe('a forecast outside the limits of a coating', () => {
  test('is told with its figures, and the coating moves to where conditions allow it', async () => {
    const { deps, shopId, coat, forecast, asked } = await withOneCoating();
    const hour = 3_600_000;
    // The data sheets of the demo shop allow 10 to 30 °C or less, as is common practice.
    const cold = [-3, 0].map((hours) => forecast((coat.start + hours * hour) as Instant, 4));
    const warm = forecast((coat.start + 3 * hour) as Instant, 20);
    const { recorded, against } = await recordReadings(deps, { shopId, readings: [...cold, warm] });
    expect(recorded).toBe(3);
    expect(against.join(' ')).toMatch(/air 4 °C, at least \d+ °C/);
    expect(asked).toEqual(['conditions']);
    const { plan } = await replan(deps, { shopId, reason: 'conditions' });
    const moved = plan.operations.find((each) => each.operation === 'coat')!;
    const elsewhere = moved.placeId !== coat.placeId;
    expect(elsewhere || moved.start >= warm.at || moved.end <= cold[0]!.at).toBe(true);
    const all = await listReadings(deps, { shopId, from: MONDAY_8, to: (warm.at + 1) as Instant });
    expect(all).toHaveLength(3);
  });
});

describe('a reading', () => {
  test('that fits says nothing against the plan', async () => {
    const { deps, shopId, coat, forecast } = await withOneCoating();
    const readings = [forecast(coat.start, 20)];
    expect(await recordReadings(deps, { shopId, readings })).toEqual({ recorded: 1, against: [] });
  });

  test('cannot have been measured in the future', async () => {
    const { deps, shopId, coat, forecast } = await withOneCoating();
    const readings = [{ ...forecast(coat.start, 20), source: 'measured' as const }];
    await expect(recordReadings(deps, { shopId, readings })).rejects.toThrow(Invalid);
  });
});
