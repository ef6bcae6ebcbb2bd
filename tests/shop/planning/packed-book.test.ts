import { describe, expect, test } from 'vitest';
import { book } from '../../../src/shop/booking/book.ts';
import { loadBook } from '../../../src/shop/planning/load-book.ts';
import { packBook, unpackBook } from '../../../src/shop/planning/packed-book.ts';
import { aRequest } from '../a-request.ts';
import { aShop, MONDAY_8 } from '../a-shop.ts';

async function aBook() {
  const { deps, shopId } = await aShop();
  const wash = { request: aRequest('walkInWash'), dropOffAt: MONDAY_8, pickupAt: null, depositNote: '' };
  await book(deps, { shopId, ...wash });
  return { deps, shopId, loaded: await loadBook(deps.store, shopId, deps.clock()) };
}

/** The numbers of the pieces a part is packed in. */
const idsOf = (packed: ReturnType<typeof packBook>, part: string) => [packed.parts[part]!].flat().map(({ id }) => id);

describe('a packed book', () => {
  test('is the same book where it is unpacked', async () => {
    const { loaded } = await aBook();
    expect(loaded.jobs).toHaveLength(1);
    expect(loaded.previousPlan!.operations.length).toBeGreaterThan(3);
    expect(unpackBook(packBook(loaded))).toEqual(loaded);
  });

  test('packs anew what has changed in it, and nothing else', async () => {
    const { deps, shopId, loaded } = await aBook();
    const first = packBook(loaded);
    const again = packBook(await loadBook(deps.store, shopId, deps.clock()));
    for (const part of ['jobs', 'events', 'recipes', 'operations', 'stays', 'shop']) {
      expect(idsOf(again, part)).toEqual(idsOf(first, part));
    }
    const other = { ...loaded, jobs: loaded.jobs.map((job) => ({ ...job, notes: 'comes with a trailer' })) };
    const changed = packBook(other);
    expect(idsOf(changed, 'jobs')).not.toEqual(idsOf(first, 'jobs'));
    expect(idsOf(changed, 'recipes')).toEqual(idsOf(first, 'recipes'));
    expect(unpackBook(changed)).toEqual(other);
  });

  test('of which one day is planned otherwise packs that day, and not the others', async () => {
    const { loaded } = await aBook();
    const plan = loaded.previousPlan!;
    const nextDay = plan.operations.map((each) => ({ ...each, start: (each.start + 86_400_000) as typeof each.start }));
    const twoDays = { ...loaded, previousPlan: { ...plan, operations: [...plan.operations, ...nextDay] } };
    const [today, tomorrow] = idsOf(packBook(twoDays), 'operations');
    const [first, ...others] = nextDay;
    const renamed = [{ ...first!, label: 'once more' }, ...others];
    const other = { ...twoDays, previousPlan: { ...plan, operations: [...plan.operations, ...renamed] } };
    const ids = idsOf(packBook(other), 'operations');
    expect(ids).toHaveLength(2);
    expect(ids[0]).toBe(today);
    expect(ids[1]).not.toBe(tomorrow);
    expect(unpackBook(packBook(other))).toEqual(other);
  });

  test('is never mistaken for a book of another plan, or of another shop', async () => {
    const { loaded } = await aBook();
    const plan = { ...loaded.previousPlan!, reason: 'another' };
    const shop = { ...loaded.shop, id: 'elsewhere' as typeof loaded.shop.id };
    for (const other of [
      { ...loaded, previousPlan: plan },
      { ...loaded, previousPlan: null },
      { ...loaded, shop },
      loaded,
    ])
      expect(unpackBook(packBook(other))).toEqual(other);
  });
});
