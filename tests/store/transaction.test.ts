import { expect, it } from 'vitest';
import type { ShopId } from '../../src/trade/model/ids.ts';
import { onEachDatabase } from './fresh-database.ts';
import { aJob, aShop, at, jobId, stockedShop } from './samples.ts';

onEachDatabase('a transaction', (given) => {
  it('leaves nothing behind when its work fails', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    const failing = store.transaction(shopId, async (records) => {
      await records.jobs.put(shopId, aJob('never'), 'new');
      await records.outbox.append(shopId, { kind: 'job.booked', subject: 'never', at: at(1), body: null });
      throw new Error('the work failed');
    });
    await expect(failing).rejects.toThrow('the work failed');
    expect(await store.jobs.get(shopId, jobId('never'))).toBeNull();
    expect(await store.outbox.lastSequence(shopId)).toBe(0);
  });

  it('sees what it has written and hides it from others until it commits', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    await store.transaction(shopId, async (records) => {
      await records.jobs.put(shopId, aJob('inside'), 'new');
      expect((await records.jobs.get(shopId, jobId('inside')))?.version).toBe(1);
      expect(await store.jobs.get(shopId, jobId('inside'))).toBeNull();
    });
    expect((await store.jobs.get(shopId, jobId('inside')))?.version).toBe(1);
  });

  it('does not lose an update when two processes read and then write', async () => {
    const { store, another } = given();
    const shopId = await stockedShop(store);
    const other = await another();
    const increments = 8;
    const raiseTwice = [store, other].map(async (each) => {
      for (let round = 0; round < increments; round += 1) {
        await each.transaction(shopId, async (records) => {
          const { value, version } = (await records.jobs.get(shopId, jobId('j1')))!;
          await records.jobs.put(shopId, { ...value, priceMinor: value.priceMinor + 1 }, version);
        });
      }
    });
    await Promise.all(raiseTwice);
    const { value } = (await store.jobs.get(shopId, jobId('j1')))!;
    expect(value.priceMinor).toBe(45_000 + 2 * increments);
  });

  it('writes to no shop but the one it has locked', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    const elsewhere = aShop('elsewhere');
    const straying = store.transaction(shopId, (records) => records.shops.put(elsewhere, 'new'));
    await expect(straying).rejects.toThrow('cannot write to shop elsewhere');
    expect(await store.shops.get('elsewhere' as ShopId)).toBeNull();
  });

  it('does not wait for itself when its work writes past the records it was given', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    const astray = store.transaction(shopId, async () => {
      await store.jobs.put(shopId, aJob('astray'), 'new');
    });
    await expect(astray).rejects.toThrow('write through the records it was given');
  });

  it('lets what its work sets going write once it is over', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    let later: Promise<unknown> = Promise.resolve();
    let committed = () => {};
    const commit = new Promise<void>((resolve) => {
      committed = resolve;
    });
    await store.transaction(shopId, async () => {
      later = commit.then(() => store.jobs.put(shopId, aJob('later'), 'new'));
    });
    committed();
    await later;
    expect((await store.jobs.get(shopId, jobId('later')))?.version).toBe(1);
  });

  it('is still there after the store was closed and opened again', async () => {
    const { store, another } = given();
    const shopId = await stockedShop(store);
    const first = await another();
    await first.jobs.put(shopId, aJob('kept', { notes: 'süß & "quoted"' }), 'new');
    await first.close();
    const second = await another();
    expect((await second.jobs.get(shopId, jobId('kept')))?.value.notes).toBe('süß & "quoted"');
  });
});
