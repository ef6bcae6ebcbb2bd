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
    expect(await idsOf(store, shopId, { visiting: { ...tuesday, now: at(0) } })).toEqual(['long']);
    expect(await idsOf(store, shopId, { visiting: { from: at(0), to: at(8), now: at(0) } })).toEqual(['long']);
    expect(
      await idsOf(store, shopId, { visiting: { from: at(8), to: at(9), now: at(0) }, states: ['cancelled'] }),
    ).toEqual(['j2']);
  });

  it('has a car on the days it really was there, whatever had been told', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    const told = { earliestDropOff: at(500), dropOffAt: at(500), wantedPickupAt: at(550) };
    await store.jobs.put(shopId, aJob('early', { ...told, state: 'done', cameAt: at(30), leftAt: at(40) }), 'new');
    const visiting = (from: number, to: number) =>
      idsOf(store, shopId, { visiting: { from: at(from), to: at(to), now: at(600) } });
    expect(await visiting(24, 48)).toEqual(['early']);
    expect(await visiting(48, 600)).toEqual([]);
    // It came after those that are told for the first morning.
    expect(await idsOf(store, shopId, {})).toEqual(['j1', 'j2', 'j3', 'early']);
  });

  it('has a car that is overdue on every day until now, and on none that is still to come', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    await store.jobs.put(shopId, aJob('j1', { state: 'inShop', cameAt: at(9), wantedPickupAt: at(20) }), 1);
    const thursday = { from: at(72), to: at(96) };
    expect(await idsOf(store, shopId, { visiting: { ...thursday, now: at(80) } })).toEqual(['j1']);
    expect(await idsOf(store, shopId, { visiting: { ...thursday, now: at(71) } })).toEqual([]);
  });

  it('is narrowed to pickups promised within a stretch, also of cars that left before', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    const promise = { pickupAt: at(60), givenAt: at(0), confidencePercent: 90 };
    await store.jobs.put(shopId, aJob('gone', { promise, state: 'done', cameAt: at(8), leftAt: at(12) }), 'new');
    expect(await idsOf(store, shopId, { promised: { from: at(60), to: at(61) } })).toEqual(['gone']);
    expect(await idsOf(store, shopId, { promised: { from: at(48), to: at(60) } })).toEqual([]);
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
