import { expect, test } from 'vitest';
import { book } from '../../../src/shop/booking/book.ts';
import { listExceptions } from '../../../src/shop/planning/desk-exceptions.ts';
import { publish, tellBroken } from '../../../src/shop/planning/publish.ts';
import type { Instant } from '../../../src/trade/model/time.ts';
import { aRequest } from '../a-request.ts';
import { aShop, MONDAY_8 } from '../a-shop.ts';

test('a broken promise is told once, and again whenever it is broken by a quarter of an hour more', async () => {
  const { deps, shopId } = await aShop();
  const request = aRequest('walkInWash');
  const { job } = await book(deps, { shopId, request, dropOffAt: MONDAY_8, pickupAt: null, depositNote: '' });
  const told: number[] = [];
  for (const lateMinutes of [20, 25, 60, 0, 30]) {
    const standing = (await deps.store.plans.current(shopId))!;
    const plan = { ...standing, jobs: standing.jobs.map((each) => ({ ...each, lateMinutes })) };
    const { version: expectedVersion } = standing;
    await publish(deps.store, { shopId, plan, expectedVersion, jobs: [job], standing, exceptions: [] }, MONDAY_8);
    told.push((await listExceptions(deps, { shopId })).filter((each) => each.kind === 'promiseBroken').length);
  }
  expect(told).toEqual([1, 1, 2, 2, 3]);
});

test('a first plan tells of a promise only when the plan before broke it too; the search that follows it tells the rest', async () => {
  const { deps, shopId } = await aShop();
  const request = aRequest('walkInWash');
  const { job } = await book(deps, { shopId, request, dropOffAt: MONDAY_8, pickupAt: null, depositNote: '' });
  const told = async (lateMinutes: number) => {
    const standing = (await deps.store.plans.current(shopId))!;
    const plan = { ...standing, jobs: standing.jobs.map((each) => ({ ...each, lateMinutes })) };
    const { version: expectedVersion } = standing;
    const first = { shopId, plan, expectedVersion, jobs: [job], standing, exceptions: [], isFirst: true };
    await publish(deps.store, first, MONDAY_8);
    return (await listExceptions(deps, { shopId })).filter((each) => each.kind === 'promiseBroken').length;
  };
  expect(await told(20)).toBe(0);
  expect(await told(0)).toBe(0);
  expect(await told(20)).toBe(0);
  expect(await told(20)).toBe(1);

  // An improvement that finds nothing better leaves a plan that breaks the promise: the desk is told of that one.
  const { job: other } = await book(deps, {
    shopId,
    request,
    dropOffAt: (MONDAY_8 + 3_600_000) as Instant,
    pickupAt: null,
    depositNote: '',
  });
  const plan = (await deps.store.plans.current(shopId))!;
  const broken = { ...plan, jobs: plan.jobs.map((each) => ({ ...each, lateMinutes: 20 })) };
  await deps.store.transaction(shopId, (records) =>
    tellBroken(records, { shopId, plan: broken, jobs: [job, other] }, MONDAY_8),
  );
  const kinds = (await listExceptions(deps, { shopId })).filter((each) => each.kind === 'promiseBroken');
  expect(kinds.map((each) => each.jobId).sort()).toEqual([job.id, other.id].sort());
});
