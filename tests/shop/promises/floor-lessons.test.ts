import { describe, expect, test } from 'vitest';
import { DurationModel } from '../../../src/promise/spread/duration-model.ts';
import { floorLessons, spreadFactorFrom } from '../../../src/shop/promises/floor-lessons.ts';
import type { ScoredPromise } from '../../../src/shop/promises/job-lesson.ts';
import type { Instant } from '../../../src/trade/model/time.ts';
import { workContent } from '../../../src/trade/work-content/work-content.ts';
import { workFacts } from '../../../src/trade/work-content/work-facts.ts';
import { outcome } from '../../promise/calibrate/outcome.ts';
import { demo } from '../../seed/demo-shop.ts';
import { aCar } from '../floor/a-car.ts';

describe('what the floor has taught', () => {
  test('is the trade’s word while nothing is recorded', async () => {
    const { deps, shopId } = await aCar();
    const { learned, setAside, promises } = await floorLessons(deps.store, shopId, deps.clock());
    expect(learned.durations.kinds.get('clay')!.records).toBe(0);
    expect(learned.inspectionFails).toBeCloseTo(demo.shop.finalInspectionFailurePercent / 100, 12);
    expect(learned.spreadFactor).toBe(1);
    expect([setAside, promises]).toEqual([[], []]);
  });

  test('follows the facts: one that took longer moves its kind a little, and is learned from once', async () => {
    const car = await aCar();
    const { deps, shopId, jobId } = car;
    await car.tell(0, { kind: 'arrived', placeId: demo.places[0]!.id });
    const before = await floorLessons(deps.store, shopId, deps.clock());
    const { value: job } = (await deps.store.jobs.get(shopId, jobId))!;
    const norm = workContent('clay', workFacts(job, demo.shop)).minutes;
    await car.done('clay', 10, 10 + Math.round(1.4 * norm), 'cedar');
    const after = await floorLessons(deps.store, shopId, deps.clock());
    expect(after.learned.durations.kinds.get('clay')!.records).toBe(1);
    const factor = (lessons: typeof before) =>
      new DurationModel(lessons.learned.durations).factorOf('clay', null, null);
    const gained = factor(after).logMean - factor(before).logMean;
    expect(gained).toBeGreaterThan(0);
    // Five records' worth of norm stand against one: a sixth of the way at most.
    expect(gained).toBeLessThan((Math.log(1.4) - factor(before).logMean) / 5);
    expect((await floorLessons(deps.store, shopId, deps.clock())).learned).toBe(after.learned);
  });

  test('leaves out what nobody believes, and shows it', async () => {
    const car = await aCar();
    const { deps, shopId } = car;
    await car.tell(0, { kind: 'arrived', placeId: demo.places[0]!.id });
    await car.done('intake', 1, 600, 'ash');
    const { learned, setAside } = await floorLessons(deps.store, shopId, deps.clock());
    expect(learned.durations.kinds.get('intake')!.records).toBe(0);
    expect(setAside).toMatchObject([{ reason: 'tooLong', record: { work: { operation: 'intake', people: ['ash'] } } }]);
  });

  test('counts a final inspection that failed', async () => {
    const car = await aCar();
    const { deps, shopId } = car;
    await car.tell(0, { kind: 'arrived', placeId: demo.places[0]!.id });
    await car.tell(400, { kind: 'failedFinalInspection', reworkMinutes: 45, note: '' });
    const { inspectionFails } = await floorLessons(deps.store, shopId, deps.clock());
    const stated = demo.shop.finalInspectionFailurePercent / 100;
    expect(inspectionFails).toMatchObject({ happened: 1, cars: 1 });
    expect(inspectionFails.probability).toBeCloseTo((20 * stated + 1) / 21, 12);
  });
});

describe('the factor on every spread', () => {
  const given = (count: number, spreadFactor: number, achievedAt: (k: number) => number): ScoredPromise[] =>
    Array.from({ length: count }, (_, k) => ({
      ...outcome({ confidence: 0.9, medianAt: 0, promisedAt: 100 * spreadFactor, achievedAt: achievedAt(k) }),
      givenAt: k as Instant,
      spreadFactor,
    }));

  test('is 1 without promises, and stays while they are kept as said', () => {
    expect(spreadFactorFrom([])).toBe(1);
    // Nine of ten are ready within 100 minutes of the middle.
    expect(spreadFactorFrom(given(100, 1, (k) => (k % 10 === 0 ? 150 : 50)))).toBe(1);
  });

  test('grows when 90 % promises are kept 75 % of the time, to where nine of ten would have been kept', () => {
    // Distances 1 to 133: 75 % are within 100, and the ninth decile is 120.
    const factor = spreadFactorFrom(given(133, 1, (k) => k + 1));
    expect(factor).toBeCloseTo(1.2, 2);
  });

  test('is judged by the promises given at it, and stays once they are kept as said', () => {
    const before = given(133, 1, (k) => k + 1);
    const since = given(100, 1.2, (k) => (k % 10 === 0 ? 150 : 50)).map((each, k) => ({
      ...each,
      givenAt: (1000 + k) as Instant,
    }));
    expect(spreadFactorFrom([...before, ...since])).toBe(1.2);
  });
});
