import { expect, it } from 'vitest';
import { OperationKey } from '../../src/trade/model/ids.ts';
import type { FloorEvent } from '../../src/trade/model/job.ts';
import { onEachDatabase } from './fresh-database.ts';
import { aJob, aPlace, at, jobId, placeId, stockedShop } from './samples.ts';

const told = (text: string): Omit<FloorEvent, 'sequence'> => ({
  ...{ jobId: jobId('j1'), clientId: `tablet-${text}`, occurredAt: at(8), recordedAt: at(8) },
  fact: { kind: 'interrupted', operation: OperationKey.parse('wash'), reason: text },
});

onEachDatabase('a list that was read before', (given) => {
  it('tells what another process wrote since, and what it removed', async () => {
    const { store } = given();
    const elsewhere = await given().another();
    const shopId = await stockedShop(store);
    expect((await store.places.list(shopId)).map((each) => each.value.name)).toEqual(['Bay bay1', 'Bay bay2']);
    expect((await store.jobs.listOpen(shopId)).map((each) => each.value.notes)).toEqual(['', '', '']);
    await elsewhere.places.put(shopId, aPlace('bay2', { airZoneId: 'hall', name: 'Wet bay' }), 1);
    await elsewhere.places.delete(shopId, placeId('bay1'), 1);
    await elsewhere.jobs.put(shopId, aJob('j2', { notes: 'told elsewhere' }), 1);
    await elsewhere.jobs.put(shopId, aJob('j3', { state: 'cancelled' }), 1);
    expect((await store.places.list(shopId)).map((each) => each.value.name)).toEqual(['Wet bay']);
    const open = await store.jobs.listOpen(shopId);
    expect(open.map((each) => each.value.notes)).toEqual(['', 'told elsewhere']);
    expect(open.map((each) => [each.version, each.value.version])).toEqual([
      [1, 1],
      [2, 2],
    ]);
  });

  it('tells nothing of what a transaction wrote that failed, though it was read in it', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    const failing = store.transaction(shopId, async (records) => {
      await records.jobs.put(shopId, aJob('j1', { notes: 'never' }), 1);
      await records.floorEvents.append(shopId, told('never'));
      expect((await records.jobs.listOpen(shopId))[0]?.value.notes).toBe('never');
      expect(await records.floorEvents.listByJobs(shopId, [jobId('j1')])).toHaveLength(1);
      throw new Error('never mind');
    });
    await expect(failing).rejects.toThrow('never mind');
    await store.jobs.put(shopId, aJob('j1', { notes: 'instead' }), 1);
    await store.floorEvents.append(shopId, told('instead'));
    expect((await store.jobs.listOpen(shopId))[0]?.value.notes).toBe('instead');
    const events = await store.floorEvents.listByJobs(shopId, [jobId('j1')]);
    expect(events.map((each) => each.clientId)).toEqual(['tablet-instead']);
  });

  it('tells a document that was made anew under its old id in the same moment', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    await store.jobs.listOpen(shopId);
    await store.jobs.delete(shopId, jobId('j1'), 1);
    await store.jobs.put(shopId, aJob('j1', { notes: 'anew' }), 'new');
    expect((await store.jobs.listOpen(shopId))[0]).toMatchObject({ version: 1, value: { notes: 'anew' } });
  });

  it('tells the facts that another process recorded since, in their order', async () => {
    const { store } = given();
    const elsewhere = await given().another();
    const shopId = await stockedShop(store);
    const jobs = [jobId('j2'), jobId('j1')];
    for (const [index, by] of [store, elsewhere, store, elsewhere].entries()) {
      await by.floorEvents.append(shopId, told(`fact${index}`));
      const clients = (await store.floorEvents.listByJobs(shopId, jobs)).map((each) => each.clientId);
      expect(clients).toEqual(Array.from({ length: index + 1 }, (_, k) => `tablet-fact${k}`));
    }
  });

  it('of facts leaves out notes, from which nothing follows, whenever they were taken', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    const note = (clientId: string) => ({
      ...{ ...told(clientId), clientId },
      fact: { kind: 'noted' as const, operation: null, text: 'a scratch' },
    });
    const clients = async (from: typeof store) =>
      (await from.floorEvents.listByJobs(shopId, [jobId('j1')])).map((each) => each.clientId);
    await store.floorEvents.append(shopId, note('before-1'));
    await store.floorEvents.append(shopId, told('first'));
    expect(await clients(store)).toEqual(['tablet-first']);
    await store.floorEvents.append(shopId, note('between-1'));
    await store.floorEvents.append(shopId, told('second'));
    await store.floorEvents.append(shopId, note('after-01'));
    expect(await clients(store)).toEqual(['tablet-first', 'tablet-second']);
    expect(await clients(await given().another())).toEqual(['tablet-first', 'tablet-second']);
    expect(await store.floorEvents.listByJob(shopId, jobId('j1'))).toHaveLength(5);
  });
});
