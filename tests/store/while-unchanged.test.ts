import { expect, it } from 'vitest';
import type { Store } from '../../src/store/store.ts';
import type { ShopId } from '../../src/trade/model/ids.ts';
import { onEachDatabase } from './fresh-database.ts';
import { aJob, aPlace, at, jobId, placeId, stockedShop } from './samples.ts';

/** Reads the places by name, and counts how often it really read. */
function reading(store: Store, shopId: ShopId) {
  let times = 0;
  const read = async () => {
    times += 1;
    return (await store.places.list(shopId)).map(({ value }) => value.name);
  };
  return { times: () => times, names: () => store.whileUnchanged(shopId, 'names of places', read) };
}

const note = {
  ...{ jobId: jobId('j1'), clientId: 'tablet-1', occurredAt: at(8), recordedAt: at(8) },
  fact: { kind: 'noted' as const, operation: null, text: 'a scratch' },
};

onEachDatabase('a reading that is kept while nothing of the shop changes', (given) => {
  it('is read once, however many ask', async () => {
    const { store } = given();
    const places = reading(store, await stockedShop(store));
    const all = await Promise.all([places.names(), places.names(), places.names()]);
    expect(await places.names()).toEqual(['Bay bay1', 'Bay bay2']);
    expect(all[0]).toBe(all[2]);
    expect(places.times()).toBe(1);
  });

  it('is read again after a document was written or deleted, a fact was told, air was measured, here or elsewhere', async () => {
    const { store } = given();
    const elsewhere = await given().another();
    const shopId = await stockedShop(store);
    const places = reading(store, shopId);
    await places.names();
    const changes: (() => Promise<unknown>)[] = [
      () => elsewhere.places.put(shopId, aPlace('bay2', { airZoneId: 'hall', name: 'Wet bay' }), 1),
      () => store.places.delete(shopId, placeId('bay1'), 1),
      () => elsewhere.jobs.put(shopId, aJob('j2', { notes: 'told elsewhere' }), 1),
      () => store.floorEvents.append(shopId, note),
      () =>
        elsewhere.transaction(shopId, (records) => records.audit.note(shopId, { kind: 'x', subject: 'y', after: 1 })),
    ];
    for (const [k, change] of changes.entries()) {
      await change();
      await places.names();
      await places.names();
      expect(places.times()).toBe(k + 2);
    }
    expect(await places.names()).toEqual(['Wet bay']);
  });

  it('stays as it is when a write of the shop failed', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    const places = reading(store, shopId);
    await places.names();
    await expect(store.places.put(shopId, aPlace('bay2', { airZoneId: 'hall' }), 7)).rejects.toThrow();
    await places.names();
    expect(places.times()).toBe(1);
  });

  it('is read each time within a transaction, which sees what nobody else does', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    const places = reading(store, shopId);
    await places.names();
    const failing = store.transaction(shopId, async (records) => {
      await records.places.put(shopId, aPlace('bay2', { airZoneId: 'hall', name: 'never' }), 1);
      const read = async () => (await records.places.list(shopId)).map(({ value }) => value.name);
      expect(await records.whileUnchanged(shopId, 'names of places', read)).toEqual(['Bay bay1', 'never']);
      throw new Error('never mind');
    });
    await expect(failing).rejects.toThrow('never mind');
    expect(await places.names()).toEqual(['Bay bay1', 'Bay bay2']);
  });

  it('is tried again when it failed', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    const failing = () => store.whileUnchanged(shopId, 'a number', () => Promise.reject(new Error('for now')));
    await expect(failing()).rejects.toThrow('for now');
    expect(await store.whileUnchanged(shopId, 'a number', async () => 7)).toBe(7);
  });

  it('is not that of a shop that was deleted and made anew under the same id', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    const shop = (await store.shops.get(shopId))!.value;
    const alone = { ...shop, id: `${shopId}-alone` as ShopId };
    const name = () =>
      store.whileUnchanged(alone.id, 'name', async () => (await store.shops.get(alone.id))?.value.name);
    await store.shops.put({ ...alone, name: 'The old one' }, 'new');
    expect(await name()).toBe('The old one');
    await store.shops.delete(alone.id, 1);
    expect(await name()).toBeUndefined();
    await store.shops.put({ ...alone, name: 'The new one' }, 'new');
    expect(await name()).toBe('The new one');
  });
});
