import { expect, it } from 'vitest';
import type { ShopId } from '../../src/trade/model/ids.ts';
import { onEachDatabase } from './fresh-database.ts';
import { at, stockedShop } from './samples.ts';

const event = (subject: string, hour = 1) => ({ kind: 'job.booked', subject, at: at(hour), body: { subject, n: [1] } });

onEachDatabase('the outbox', (given) => {
  it('numbers the events of a shop from 1 without gaps, whoever appends', async () => {
    const { store, another } = given();
    const shopId = await stockedShop(store);
    const other = await another();
    await Promise.all(
      Array.from({ length: 12 }, (_, index) => (index % 2 ? store : other).outbox.append(shopId, event(`e${index}`))),
    );
    const listed = await store.outbox.listAfter(shopId, 0);
    expect(listed.map((each) => each.sequence)).toEqual(Array.from({ length: 12 }, (_, i) => i + 1));
    expect(listed.find((each) => each.subject === 'e3')).toMatchObject(event('e3'));
    expect(await store.outbox.lastSequence(shopId)).toBe(12);
  });

  it('gives no number to what was rolled back', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    const failing = store.transaction(shopId, async (records) => {
      await records.outbox.append(shopId, event('lost'));
      throw new Error('no');
    });
    await expect(failing).rejects.toThrow('no');
    await store.outbox.append(shopId, event('kept'));
    expect(await store.outbox.lastSequence(shopId)).toBe(1);
  });

  it('is read on from a number, so many at a time', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    for (const subject of ['a', 'b', 'c', 'd']) await store.outbox.append(shopId, event(subject));
    expect((await store.outbox.listAfter(shopId, 1, 2)).map((each) => each.subject)).toEqual(['b', 'c']);
    expect(await store.outbox.listAfter(shopId, 4)).toEqual([]);
  });

  it('forgets old events and never gives their numbers again', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    await store.outbox.append(shopId, event('old', 1));
    await store.outbox.append(shopId, event('new', 5));
    expect(await store.outbox.purge(shopId, at(5))).toBe(1);
    expect((await store.outbox.listAfter(shopId, 0)).map((each) => each.sequence)).toEqual([2]);
    await store.outbox.append(shopId, event('next', 6));
    expect(await store.outbox.lastSequence(shopId)).toBe(3);
  });

  it('wakes its listeners after the commit, and not for what was rolled back', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    const woken: { shopId: ShopId; there: number }[] = [];
    const pending: Promise<void>[] = [];
    const stop = store.onOutbox((shop) => {
      pending.push(store.outbox.lastSequence(shop).then((there) => void woken.push({ shopId: shop, there })));
    });
    const failing = store.transaction(shopId, async (records) => {
      await records.outbox.append(shopId, event('lost'));
      throw new Error('no');
    });
    await expect(failing).rejects.toThrow('no');
    expect(pending).toHaveLength(0);
    await store.outbox.append(shopId, event('kept'));
    await Promise.all(pending);
    expect(woken).toEqual([{ shopId, there: 1 }]);
    stop();
    await store.outbox.append(shopId, event('unheard'));
    expect(pending).toHaveLength(1);
  });

  it('is not held up by a listener that fails', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    const stop = store.onOutbox(() => {
      throw new Error('deaf');
    });
    await store.outbox.append(shopId, event('told'));
    expect(await store.outbox.lastSequence(shopId)).toBe(1);
    stop();
  });

  it('wakes listeners in another process on PostgreSQL', async () => {
    const { provider, store, another } = given();
    const shopId = await stockedShop(store);
    const other = await another();
    let stop = () => {};
    const heard = new Promise<ShopId>((resolve) => {
      stop = other.onOutbox(resolve);
    });
    if (provider === 'sqlite') {
      // One process on one machine: who listens elsewhere asks from time to time.
      await store.outbox.append(shopId, event('quiet'));
      expect(await other.outbox.lastSequence(shopId)).toBe(1);
    } else {
      // The listener connects while we go on; it hears the first event after that.
      const nudge = setInterval(() => void store.outbox.append(shopId, event('nudge')), 50);
      expect(await heard).toBe(shopId);
      clearInterval(nudge);
    }
    stop();
  });
});
