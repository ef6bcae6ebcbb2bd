import { describe, expect, test } from 'vitest';
import { importDiary } from '../../../src/shop/import/import-diary.ts';
import { aShop, at } from '../a-shop.ts';

const header = 'customer,class,length mm,height mm,recipe,drop-off,pickup';
const csv = (...lines: string[]) => [header, ...lines].join('\n');
const possible = 'Invented One,compact,4300,1450,walkInWash,2026-03-03 08:00,2026-03-03 16:00';
const hopeless = 'Invented Two,suv,4700,1700,multiLayerCeramic,2026-03-04 08:00,2026-03-04 12:00';

describe('a diary', () => {
  test('tried out stores nothing and says what it could not keep', async () => {
    const { deps, shopId } = await aShop();
    const tried = await importDiary(deps, { shopId, csv: csv(possible, hopeless), dryRun: true });
    expect(tried.faults).toEqual([]);
    expect(tried.jobs.map((each) => [each.line, each.jobId, each.kept])).toEqual([
      [2, null, true],
      [3, null, false],
    ]);
    expect(tried.cannotKeep).toBe(1);
    expect(await deps.store.jobs.listOpen(shopId)).toEqual([]);
    expect(await deps.store.plans.currentVersion(shopId)).toBe(0);
  });

  test('brought in is in the plan, with the hours told to the customers', async () => {
    const { deps, shopId } = await aShop();
    const { jobs } = await importDiary(deps, { shopId, csv: csv(possible), dryRun: false });
    const plan = (await deps.store.plans.current(shopId))!;
    const promised = at('2026-03-03T16:00+01:00');
    expect(plan.jobs.map((each) => [each.jobId, each.dropOffAt, each.pickupAt])).toEqual([
      [jobs[0]!.jobId, at('2026-03-03T08:00+01:00'), promised],
    ]);
    const { value } = (await deps.store.jobs.get(shopId, jobs[0]!.jobId!))!;
    expect(value).toMatchObject({ state: 'booked', promise: { pickupAt: promised } });
    expect(value.promise!.confidencePercent).toBeGreaterThan(85);
  });

  test('with one bad line is not brought in at all, and the line is named', async () => {
    const { deps, shopId } = await aShop();
    const tall = 'Invented Three,van,8900,3900,walkInWash,2026-03-05 08:00,';
    const { faults, jobs } = await importDiary(deps, { shopId, csv: csv(possible, tall), dryRun: false });
    expect(jobs).toEqual([]);
    expect(faults.length).toBeGreaterThan(0);
    expect(faults.every((each) => each.line === 3 && ['length mm', 'height mm'].includes(each.column))).toBe(true);
    expect(await deps.store.jobs.listOpen(shopId)).toEqual([]);
  });
});
