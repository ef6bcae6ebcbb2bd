import { expect, test } from 'vitest';
import { book } from '../../../src/shop/booking/book.ts';
import { listExceptions } from '../../../src/shop/planning/desk-exceptions.ts';
import { publish } from '../../../src/shop/planning/publish.ts';
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
