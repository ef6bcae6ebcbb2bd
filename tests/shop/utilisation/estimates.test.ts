import jStat from 'jstat';
import { expect, test } from 'vitest';
import { estimateErrors, linesOf } from '../../../src/shop/utilisation/estimates.ts';
import { FloorEvent, type FloorFact } from '../../../src/trade/model/job.ts';
import type { Instant } from '../../../src/trade/model/time.ts';
import { aShop, at } from '../a-shop.ts';
import { aCarThatCame } from '../owner-what-ifs/a-car-that-came.ts';

const work = (id: string, plannedMinutes: number, workedMinutes: number) => ({
  id,
  name: id,
  plannedMinutes,
  workedMinutes,
});

test('a kind that takes half as long again is 150 %, and its interval is that of the logarithms', () => {
  const records = [60, 80, 100, 120, 140].map((planned, index) =>
    work('wheels', planned, planned * (1.4 + index / 20)),
  );
  const [line] = linesOf(records);
  const logs = records.map((each) => Math.log(each.workedMinutes / each.plannedMinutes));
  const half = (jStat.studentt.inv(0.975, 4) * jStat.stdev(logs, true)) / Math.sqrt(5);
  expect(line?.percent).toBeCloseTo(100 * Math.exp(jStat.mean(logs)), 9);
  expect(line?.fromPercent).toBeCloseTo(100 * Math.exp(jStat.mean(logs) - half), 0);
  expect(line?.toPercent).toBeCloseTo(100 * Math.exp(jStat.mean(logs) + half), 0);
  expect(line?.clear).toBe(true);
});

test('twice as long and half as long are no error on the whole, and nothing to change a norm for', () => {
  const [line] = linesOf([work('clay', 60, 120), work('clay', 60, 30)]);
  expect(line?.percent).toBeCloseTo(100, 9);
  expect(line?.clear).toBe(false);
});

test('one record has no interval, and four are too few to be clear', () => {
  expect(linesOf([work('clay', 60, 90)])[0]).toMatchObject({ records: 1, fromPercent: null, clear: false });
  const four = linesOf([1, 2, 3, 4].map(() => work('clay', 60, 90)));
  expect(four[0]).toMatchObject({ records: 4, clear: false });
});

test('the farthest from its plan is told first, slow and fast alike', () => {
  const lines = linesOf([work('even', 60, 60), work('fast', 60, 20), work('slow', 60, 120)]);
  expect(lines.map(({ id }) => id)).toEqual(['fast', 'slow', 'even']);
});

test('records are counted once by kind, once by recipe and once by person, so that each list adds up to all', async () => {
  const shop = await aShop({ now: at('2026-03-04T18:00+01:00') });
  const { store } = shop.deps;
  const car = { ...aCarThatCame('washed', 'walkInWash', '2026-03-03T08:00+01:00', 8), state: 'inShop' as const };
  await store.jobs.put(shop.shopId, car, 'new');
  const began = at('2026-03-03T08:00+01:00');
  const tell = async (minute: number, fact: FloorFact) => {
    const occurredAt = (began + minute * 60_000) as Instant;
    const event = {
      jobId: car.id,
      clientId: `tablet-${minute}-${fact.kind}`,
      occurredAt,
      recordedAt: occurredAt,
      fact,
    };
    await store.floorEvents.append(shop.shopId, FloorEvent.omit({ sequence: true }).parse(event));
  };
  await tell(0, { kind: 'arrived', placeId: 'bay1' as never });
  for (const [index, operation] of ['intake', 'maintenanceWash', 'blowDry'].entries()) {
    await tell(60 * index + 1, {
      kind: 'started',
      operation: operation as never,
      by: [index === 1 ? 'cedar' : 'ash'] as never,
    });
    await tell(60 * index + 41, { kind: 'finished', operation: operation as never });
  }
  const figures = await estimateErrors(shop.deps, { shopId: shop.shopId, monday: '2026-03-02', weeks: 1 });
  expect(figures.all).toMatchObject({ records: 3, workedMinutes: 120 });
  for (const lines of [figures.kinds, figures.recipes, figures.people]) {
    const sum = (of: 'records' | 'workedMinutes' | 'plannedMinutes') => lines.reduce((all, line) => all + line[of], 0);
    expect(sum('records')).toBe(figures.all?.records);
    expect(sum('workedMinutes')).toBe(figures.all?.workedMinutes);
    expect(sum('plannedMinutes')).toBe(figures.all?.plannedMinutes);
  }
  expect(figures.people.map(({ name, records }) => `${name} ${records}`).sort()).toEqual(['Ash 2', 'Cedar 1']);
  const before = await estimateErrors(shop.deps, { shopId: shop.shopId, monday: '2026-02-23', weeks: 4 });
  expect(before.all).toBeNull();
});
