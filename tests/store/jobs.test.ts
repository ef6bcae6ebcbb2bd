import { expect, it } from 'vitest';
import type { Store } from '../../src/store/store.ts';
import type { ShopId } from '../../src/trade/model/ids.ts';
import { onEachDatabase } from './fresh-database.ts';
import { aJob, at, jobId, stockedShop } from './samples.ts';

async function idsOf(store: Store, shopId: ShopId, filter: Parameters<Store['jobs']['list']>[1]): Promise<string[]> {
  return (await store.jobs.list(shopId, filter)).items.map((each) => each.value.id);
}

onEachDatabase('the list of jobs', (given) => {
  it('is in the order of drop-off, as told or else the earliest, then of id', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    await store.jobs.put(shopId, aJob('told', { earliestDropOff: at(30), dropOffAt: at(2) }), 'new');
    await store.jobs.put(shopId, aJob('late', { earliestDropOff: at(20) }), 'new');
    expect(await idsOf(store, shopId, {})).toEqual(['told', 'j1', 'j2', 'j3', 'late']);
  });

  it('comes in pages that neither repeat nor leave out, also with equal drop-offs', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    for (let index = 0; index < 8; index += 1) {
      await store.jobs.put(shopId, aJob(`n${index}`, { earliestDropOff: at(index % 3) }), 'new');
    }
    const seen: string[] = [];
    let cursor: string | null = null;
    let pages = 0;
    do {
      const page: Awaited<ReturnType<Store['jobs']['list']>> = await store.jobs.list(shopId, {
        limit: 3,
        ...(cursor === null ? {} : { cursor }),
      });
      expect(page.items.length).toBeLessThanOrEqual(3);
      seen.push(...page.items.map((each) => each.value.id));
      cursor = page.nextCursor;
      pages += 1;
    } while (cursor !== null);
    expect(pages).toBe(4);
    expect(seen).toEqual(await idsOf(store, shopId, { limit: 100 }));
    expect(new Set(seen).size).toBe(11);
  });

  it('has no next page when the last one is just full', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    expect((await store.jobs.list(shopId, { limit: 3 })).nextCursor).toBeNull();
  });

  it('refuses a cursor it did not give', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    for (const cursor of ['nonsense', Buffer.from('["x",1]').toString('base64url')]) {
      await expect(store.jobs.list(shopId, { cursor })).rejects.toMatchObject({ code: 'invalidCursor' });
    }
  });

  it('is narrowed by state and by the days a car visits', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    await store.jobs.put(shopId, aJob('j2', { state: 'cancelled' }), 1);
    const promise = { pickupAt: at(60), givenAt: at(0), confidencePercent: 90 };
    await store.jobs.put(shopId, aJob('long', { earliestDropOff: at(4), promise }), 'new');
    expect(await idsOf(store, shopId, { states: ['booked'] })).toEqual(['long', 'j1', 'j3']);
    expect(await idsOf(store, shopId, { states: [] })).toEqual([]);
    const tuesday = { from: at(24), to: at(48) };
    expect(await idsOf(store, shopId, { visiting: tuesday })).toEqual(['long']);
    expect(await idsOf(store, shopId, { visiting: { from: at(0), to: at(8) } })).toEqual(['long']);
    expect(await idsOf(store, shopId, { visiting: { from: at(8), to: at(9) }, states: ['cancelled'] })).toEqual(['j2']);
  });

  it('is searched by customer or registration, however it is written', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    const zoe = aJob('zoe', {
      customer: { name: 'Zoë Größenwahn', phone: '+00 (555) 01-99', email: 'zoe@example.org' },
      vehicle: { ...aJob('x').vehicle, registration: 'ÖX-77 q' },
    });
    await store.jobs.put(shopId, zoe, 'new');
    for (const search of ['zoe', 'GRÖSS', 'größ', 'ox77Q', '555 0199', 'zoe@EXAMPLE', 'zoegr']) {
      expect([search, await idsOf(store, shopId, { search })]).toEqual([search, ['zoe']]);
    }
    expect(await idsOf(store, shopId, { search: 'kx12' })).toEqual(['j1', 'j2', 'j3']);
    expect(await idsOf(store, shopId, { search: 'nobody' })).toEqual([]);
    // Signs that a pattern would take as wildcards count for nothing.
    expect(await idsOf(store, shopId, { search: 'z%e' })).toEqual([]);
    expect(await idsOf(store, shopId, { search: '_%' })).toHaveLength(4);
  });

  it('of the open ones has those a plan must cover', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    const states = ['held', 'inShop', 'done', 'cancelled', 'noShow', 'lapsed'];
    for (const state of states) await store.jobs.put(shopId, aJob(state, { state }), 'new');
    const open = await store.jobs.listOpen(shopId);
    expect(open.map((each) => each.value.id).sort()).toEqual(['held', 'inShop', 'j1', 'j2', 'j3']);
  });
});

onEachDatabase('a job', (given) => {
  it('tells its own version', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    const written = await store.jobs.put(shopId, aJob('j1', { version: 99 }), 1);
    expect(written.value.version).toBe(2);
    expect((await store.jobs.get(shopId, jobId('j1')))?.value.version).toBe(2);
    expect((await store.jobs.list(shopId)).items[0]?.value.version).toBe(2);
  });
});
