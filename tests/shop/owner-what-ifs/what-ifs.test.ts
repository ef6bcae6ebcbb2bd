import { expect, test } from 'vitest';
import { createInProcessMonthPlanner } from '../../../src/shop/owner-what-ifs/month-planner.ts';
import type { WhatIfProgress } from '../../../src/shop/owner-what-ifs/what-if.ts';
import { whatIfs } from '../../../src/shop/owner-what-ifs/what-ifs.ts';
import type { Job } from '../../../src/trade/model/job.ts';
import { aShop, type TestShop } from '../a-shop.ts';
import { aCarThatCame } from './a-car-that-came.ts';

const terms = { months: 3, seed: 11, demandPercent: 100 };

async function afterTheseCame(jobs: readonly Job[]): Promise<TestShop> {
  const shop = await aShop();
  for (const job of jobs) await shop.deps.store.jobs.put(shop.shopId, job, 'new');
  return shop;
}

const asked = ({ deps, shopId }: TestShop, told: WhatIfProgress[] = [], more: Partial<typeof terms> = {}) =>
  whatIfs(
    { store: deps.store, clock: deps.clock, months: createInProcessMonthPlanner(7) },
    { shopId, ...terms, ...more },
    (progress) => told.push(progress),
  );

/** Ten cars a week that all come on a Tuesday morning and are wanted back in the evening: one wet bay cannot wash them. */
const tuesdayWashes = Array.from({ length: 10 }, (_, index) =>
  aCarThatCame(`wash-${index}`, 'maintenance', '2026-03-03T08:00+01:00', 8),
);

/** Machines enough for two bays: the demo has one pressure washer and one compressor, which two bays would wait for. */
async function withMachinesForTwo({ deps, shopId }: TestShop): Promise<void> {
  for (const { value } of await deps.store.equipment.list(shopId)) {
    await deps.store.equipment.put(shopId, { ...value, count: Math.max(2, value.count) }, 'any');
  }
}

test('a second wet bay helps a shop whose wet bay is what cars wait for; a lamp does not, for nothing is cured', async () => {
  const told: WhatIfProgress[] = [];
  const shop = await afterTheseCame(tuesdayWashes);
  await withMachinesForTwo(shop);
  const result = await asked(shop, told);
  const of = (change: string) => result.changes.find((each) => each.change === change);
  expect(result.cars).toEqual({ median: 40, least: 40, most: 40 });
  expect(result.lateCars.median).toBeGreaterThan(0);
  expect(of('bay')?.like).toBe('Bay 1, wet');
  expect(of('bay')?.lateCarsChange.median).toBeLessThan(0);
  // The months and the luck are the same, so that what cannot matter changes nothing at all.
  expect(of('lamp')?.lateCarsChange).toEqual({ median: 0, least: 0, most: 0 });
  expect(of('lamp')?.lateMinutesChange).toEqual({ median: 0, least: 0, most: 0 });
  expect(told.at(-1)).toEqual({ planned: 15, of: 15 });
});

test('the same seed gives the same answer', async () => {
  const shop = await afterTheseCame(tuesdayWashes);
  expect(await asked(shop, [], { months: 1 })).toEqual(await asked(shop, [], { months: 1 }));
});

test('with cars and late cars month by month, what a change saves is what is left less what there was', async () => {
  const result = await asked(await afterTheseCame(tuesdayWashes), [], { months: 1 });
  for (const change of result.changes) {
    expect(change.lateCars.median - result.lateCars.median).toBe(change.lateCarsChange.median);
  }
});

test('nothing takes more than the hours that are open', async () => {
  const result = await asked(await afterTheseCame(tuesdayWashes), [], { months: 1, demandPercent: 200 });
  for (const { percent } of [...result.bays, ...result.people]) {
    expect(percent.least).toBeGreaterThanOrEqual(0);
    expect(percent.most).toBeLessThanOrEqual(100);
  }
});

test('a shop that no car came to has nothing to draw from, and says so', async () => {
  const result = await asked(await aShop());
  expect(result.drawnFrom.jobs).toBe(0);
  expect(result.cars.most).toBe(0);
});

test('months that nobody waits for any more are not planned to the end', async () => {
  const shop = await afterTheseCame(tuesdayWashes);
  const left = new AbortController();
  const planner = createInProcessMonthPlanner(7);
  let planned = 0;
  const months = {
    plan: async (...[task, signal]: Parameters<typeof planner.plan>) => {
      if (signal?.aborted) throw new Error('left');
      if (++planned === 2) left.abort();
      return planner.plan(task);
    },
  };
  const asking = whatIfs(
    { store: shop.deps.store, clock: shop.deps.clock, months },
    { shopId: shop.shopId, ...terms },
    () => {},
    left.signal,
  );
  await expect(asking).rejects.toThrow('left');
  expect(planned).toBe(2);
});
