import { describe, expect, test } from 'vitest';
import { book } from '../../../src/shop/booking/book.ts';
import { loadBook } from '../../../src/shop/planning/load-book.ts';
import { pack, packBook, unpack, unpackBook } from '../../../src/shop/planning/packed-book.ts';
import { aRequest } from '../a-request.ts';
import { aShop, MONDAY_8 } from '../a-shop.ts';

async function aBook() {
  const { deps, shopId } = await aShop();
  const wash = { request: aRequest('walkInWash'), dropOffAt: MONDAY_8, pickupAt: null, depositNote: '' };
  await book(deps, { shopId, ...wash });
  return { deps, shopId, loaded: await loadBook(deps.store, shopId, deps.clock()) };
}

const idOf = (packed: ReturnType<typeof packBook>, part: string) =>
  packed.parts.find(({ name }) => name === part)!.packed.id;

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
    expect(again.parts.map(({ packed }) => packed.id)).toEqual(first.parts.map(({ packed }) => packed.id));
    const other = { ...loaded, jobs: loaded.jobs.map((job) => ({ ...job, notes: 'comes with a trailer' })) };
    const changed = packBook(other);
    expect(idOf(changed, 'jobs')).not.toBe(idOf(first, 'jobs'));
    expect(idOf(changed, 'recipes')).toBe(idOf(first, 'recipes'));
    expect(unpackBook(changed)).toEqual(other);
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

  test('lies in memory that every thread reads, once for one value', () => {
    const value = { hours: [8, 17] };
    expect(pack(value).bytes.buffer).toBeInstanceOf(SharedArrayBuffer);
    expect(pack(value)).toBe(pack(value));
    expect(unpack(pack(value))).toEqual(value);
  });
});
