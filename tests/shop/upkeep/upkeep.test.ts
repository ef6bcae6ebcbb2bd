import { setTimeout as pause } from 'node:timers/promises';
import { expect, test, vi } from 'vitest';
import { keepUpEvery } from '../../../src/shop/upkeep/upkeep.ts';
import { ShopId } from '../../../src/trade/model/ids.ts';
import { aShop } from '../a-shop.ts';

/** The demo shop and two more, of which upkeep reads the plans in turn; what happens at each is the test's. */
async function threeShops(atEach: (shopId: ShopId) => Promise<void>) {
  const { deps, shopId } = await aShop();
  const { value: shop } = (await deps.store.shops.get(shopId))!;
  for (const name of ['second', 'third']) {
    const id = ShopId.parse(name);
    await deps.store.transaction(id, (records) => records.shops.put({ ...shop, id }, 'new'));
  }
  const read = deps.store.plans.current.bind(deps.store.plans);
  const seen: ShopId[] = [];
  vi.spyOn(deps.store.plans, 'current').mockImplementation(async (id) => {
    seen.push(id);
    await atEach(id);
    return read(id);
  });
  return { deps, seen };
}

test('what goes wrong in one shop keeps none of the others waiting', async () => {
  const failed: ShopId[] = [];
  const { deps, seen } = await threeShops(async (id) => {
    if (id !== 'second' || failed.includes(id)) return;
    failed.push(id);
    throw new Error('the second shop cannot be read');
  });
  const stop = keepUpEvery(deps, 1);
  await vi.waitFor(() => expect(new Set(seen).size).toBe(3), 10_000);
  await stop();
  expect(failed).toEqual(['second']);
});

test('whoever stops it waits for one shop, not for the round', async () => {
  let goOn = () => {};
  const begun = new Promise<void>((resolve) => {
    goOn = resolve;
  });
  const { deps, seen } = await threeShops(() => begun);
  const stop = keepUpEvery(deps, 1);
  await vi.waitFor(() => expect(seen).toHaveLength(1), 10_000);
  const stopped = stop();
  goOn();
  await stopped;
  await pause(20);
  expect(new Set(seen).size).toBe(1);
});
