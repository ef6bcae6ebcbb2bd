import { expect, it } from 'vitest';
import { shopAsItStands } from '../../src/shop/records/shop-as-it-stands.ts';
import type { KnownWritten, Store } from '../../src/store/store.ts';
import { OperationKey, type ShopId } from '../../src/trade/model/ids.ts';
import { onEachDatabase } from './fresh-database.ts';
import { aJob, aPlace, at, jobId, stockedShop } from './samples.ts';

/** A reading that is amended by nothing, and notes whether it was read anew or what it was told of. */
function noting(store: Store, shopId: ShopId) {
  const heard: ('anew' | readonly KnownWritten[])[] = [];
  return {
    heard,
    ask: () =>
      store.whileUnchanged(
        shopId,
        'noted',
        async () => heard.push('anew'),
        async (was, written) => {
          heard.push(written);
          return was;
        },
      ),
  };
}

const told = (n: number) => ({
  ...{ jobId: jobId('j1'), clientId: `tablet-${n}`, occurredAt: at(8), recordedAt: at(8) },
  fact: { kind: 'interrupted' as const, operation: OperationKey.parse('wash'), reason: `scratch ${n}` },
});

onEachDatabase('a reading that is amended by what its own process wrote', (given) => {
  it('is told each thing that was written since it was asked last', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    const { heard, ask } = noting(store, shopId);
    await ask();
    await store.floorEvents.append(shopId, told(1));
    await store.transaction(shopId, async (records) => {
      await records.jobs.put(shopId, aJob('j2', { notes: 'changed' }), 1);
      await records.outbox.append(shopId, { kind: 'job.changed', subject: 'j2', at: at(8), body: {} });
    });
    await ask();
    await ask();
    expect(heard).toEqual(['anew', [{ what: 'facts', jobId: 'j1' }, { what: 'job', jobId: 'j2' }, { what: 'aside' }]]);
  });

  it('is not told that a note was taken: nothing follows from it', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    const { heard, ask } = noting(store, shopId);
    await ask();
    await store.floorEvents.append(shopId, { ...told(1), fact: { kind: 'noted', operation: null, text: 'a scratch' } });
    await ask();
    expect(heard).toEqual(['anew', [{ what: 'aside' }]]);
  });

  it('is read anew once another process wrote, or anything may have been written', async () => {
    const { store } = given();
    const elsewhere = await given().another();
    const shopId = await stockedShop(store);
    const { heard, ask } = noting(store, shopId);
    await ask();
    await elsewhere.floorEvents.append(shopId, told(1));
    await store.floorEvents.append(shopId, told(2));
    await ask();
    await store.places.put(shopId, aPlace('bay2', { airZoneId: 'hall', name: 'Wet bay' }), 1);
    await ask();
    await store.floorEvents.append(shopId, told(3));
    await ask();
    expect(heard).toEqual(['anew', 'anew', 'anew', [{ what: 'facts', jobId: 'j1' }]]);
  });

  it('is told nothing of what was rolled back, also when another process writes next', async () => {
    const { store } = given();
    const elsewhere = await given().another();
    const shopId = await stockedShop(store);
    const { heard, ask } = noting(store, shopId);
    await ask();
    const failing = store.transaction(shopId, async (records) => {
      await records.floorEvents.append(shopId, told(1));
      throw new Error('never mind');
    });
    await expect(failing).rejects.toThrow('never mind');
    await ask();
    await elsewhere.jobs.put(shopId, aJob('j2', { notes: 'told elsewhere' }), 1);
    await ask();
    expect(heard).toEqual(['anew', 'anew']);
  });

  it('gives a shop as it stands that is the one read anew, whoever wrote what', async () => {
    const { store } = given();
    const elsewhere = await given().another();
    const shopId = await stockedShop(store);
    await shopAsItStands(store, shopId);
    const writes: (() => Promise<unknown>)[] = [
      () => store.floorEvents.append(shopId, told(1)),
      () => store.jobs.put(shopId, aJob('j2', { notes: 'changed' }), 1),
      () => store.jobs.put(shopId, aJob('j9'), 'new'),
      () => elsewhere.floorEvents.append(shopId, told(2)),
      () => store.floorEvents.append(shopId, { ...told(3), jobId: jobId('j9') }),
      () => store.jobs.put(shopId, aJob('j2', { state: 'cancelled' }), 2),
      () => store.floorEvents.append(shopId, { ...told(4), jobId: jobId('j2') }),
      () => store.jobs.put(shopId, aJob('j2', { notes: 'open again' }), 3),
    ];
    for (const write of writes) {
      await write();
      const fresh = await given().another();
      expect(await shopAsItStands(store, shopId)).toEqual(await shopAsItStands(fresh, shopId));
    }
  });
});
