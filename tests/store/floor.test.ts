import { expect, it } from 'vitest';
import type { AirZoneId } from '../../src/trade/model/ids.ts';
import { FloorEvent } from '../../src/trade/model/job.ts';
import { ConditionsReading } from '../../src/trade/model/readings.ts';
import { onEachDatabase } from './fresh-database.ts';
import { at, jobId, stockedShop } from './samples.ts';

const fact = (clientId: string, job: string, hour: number, change: object = {}) => {
  const { sequence: _, ...event } = FloorEvent.parse({
    jobId: job,
    clientId,
    occurredAt: at(hour),
    recordedAt: at(hour),
    sequence: 0,
    fact: { kind: 'arrived', placeId: 'bay1' },
    ...change,
  });
  return event;
};

onEachDatabase('a fact of the floor', (given) => {
  it('gets the next number of its job', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    const numbers: number[] = [];
    for (const [clientId, job] of [
      ['device-01', 'j1'],
      ['device-02', 'j2'],
      ['device-03', 'j1'],
      ['device-04', 'j1'],
    ] as const) {
      numbers.push((await store.floorEvents.append(shopId, fact(clientId, job, 9))).event.sequence);
    }
    expect(numbers).toEqual([1, 1, 2, 3]);
    expect((await store.floorEvents.listByJob(shopId, jobId('j1'))).map((each) => each.clientId)).toEqual([
      'device-01',
      'device-03',
      'device-04',
    ]);
    expect((await store.floorEvents.listByJob(shopId, jobId('j1'), 2)).map((each) => each.sequence)).toEqual([3]);
    const both = await store.floorEvents.listByJobs(shopId, [jobId('j1'), jobId('j2')]);
    expect(both.map((each) => `${each.jobId}.${each.sequence}`)).toEqual(['j1.1', 'j1.2', 'j1.3', 'j2.1']);
  });

  it('sent twice by a device is one fact, and what it said first stands', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    const first = await store.floorEvents.append(shopId, fact('device-01', 'j1', 9));
    const again = await store.floorEvents.append(
      shopId,
      fact('device-01', 'j2', 11, { fact: { kind: 'noted', operation: null, text: 'something else' } }),
    );
    expect(again).toEqual({ event: first.event, repeated: true });
    expect(first.repeated).toBe(false);
    expect(await store.floorEvents.listByJob(shopId, jobId('j2'))).toEqual([]);
  });

  it('told with many others gets its number, and its place in the trail, as if it had been told alone', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    await store.floorEvents.append(shopId, fact('device-01', 'j1', 9));
    const many = [
      fact('device-02', 'j1', 10),
      fact('device-01', 'j1', 11),
      fact('device-03', 'j2', 10),
      fact('device-02', 'j2', 12),
      ...Array.from({ length: 1200 }, (_, index) => fact(`device-x-${index}`, index % 2 === 0 ? 'j1' : 'j3', 13)),
    ];
    expect(await store.floorEvents.appendAll(shopId, many)).toBe(1202);
    expect(await store.floorEvents.appendAll(shopId, many)).toBe(0);
    const all = await store.floorEvents.listByJobs(shopId, [jobId('j1'), jobId('j2'), jobId('j3')]);
    const clients = (job: string) => all.filter((each) => each.jobId === job).map((each) => each.clientId);
    expect(clients('j1').slice(0, 4)).toEqual(['device-01', 'device-02', 'device-x-0', 'device-x-2']);
    expect(clients('j2')).toEqual(['device-03']);
    for (const job of ['j1', 'j2', 'j3']) {
      const numbers = all.filter((each) => each.jobId === job).map((each) => each.sequence);
      expect(numbers).toEqual(numbers.map((_, index) => index + 1));
    }
    const noted = await store.audit.list(shopId, { kind: 'floorEvent', limit: 2000 });
    expect(noted).toHaveLength(1203);
    expect(noted[0]!.after).toContain('device-x-1199');
  });

  it('told with one of a job that is not there is not recorded', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    const both = [fact('device-01', 'j1', 9), fact('device-02', 'j9', 9)];
    await expect(store.floorEvents.appendAll(shopId, both)).rejects.toMatchObject({ field: 'jobId', id: 'j9' });
    expect(await store.floorEvents.listByJob(shopId, jobId('j1'))).toEqual([]);
  });

  it('sent twice at once, through two processes, is one fact', async () => {
    const { store, another } = given();
    const shopId = await stockedShop(store);
    const other = await another();
    const answers = await Promise.all([
      store.floorEvents.append(shopId, fact('device-01', 'j1', 9)),
      other.floorEvents.append(shopId, fact('device-01', 'j1', 9)),
    ]);
    expect(answers.map((answer) => answer.repeated).sort()).toEqual([false, true]);
    expect(await store.floorEvents.listByJob(shopId, jobId('j1'))).toHaveLength(1);
  });

  it('with the same client id in another shop is another fact', async () => {
    const { store } = given();
    const [here, there] = [await stockedShop(store), await stockedShop(store)];
    await store.floorEvents.append(here, fact('device-01', 'j1', 9));
    expect((await store.floorEvents.append(there, fact('device-01', 'j1', 9))).repeated).toBe(false);
  });

  it('is found by when it was recorded and by when it happened', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    await store.floorEvents.append(shopId, fact('device-01', 'j1', 9, { recordedAt: at(12) }));
    await store.floorEvents.append(shopId, fact('device-02', 'j2', 10));
    const recorded = await store.floorEvents.listRecordedSince(shopId, at(10));
    expect(recorded.map((each) => each.clientId)).toEqual(['device-02', 'device-01']);
    expect(await store.floorEvents.listRecordedSince(shopId, at(10), 1)).toHaveLength(1);
    const occurred = await store.floorEvents.listOccurred(shopId, { from: at(9), to: at(10) });
    expect(occurred.map((each) => each.clientId)).toEqual(['device-01']);
  });

  it('is of a job that is there, which then stays', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    const stray = store.floorEvents.append(shopId, fact('device-01', 'j9', 9));
    await expect(stray).rejects.toMatchObject({ code: 'unknownReference', field: 'jobId' });
    await store.floorEvents.append(shopId, fact('device-01', 'j1', 9));
    await expect(store.jobs.delete(shopId, jobId('j1'), 1)).rejects.toMatchObject({ by: ['floorEvent'] });
  });
});

onEachDatabase('a reading', (given) => {
  const reading = (hour: number, airTempC: number, change: object = {}) =>
    ConditionsReading.parse({
      airZoneId: 'hall',
      at: at(hour),
      source: 'measured',
      airTempC,
      relativeHumidityPercent: 50,
      panelTempC: null,
      jobId: null,
      ...change,
    });

  it('is found by zone, time and source', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    const hall = 'hall' as AirZoneId;
    await store.readings.append(shopId, reading(10, 21));
    await store.readings.append(shopId, reading(9, 20));
    await store.readings.append(shopId, reading(9, 18, { source: 'forecast' }));
    const morning = { from: at(9), to: at(10) };
    expect((await store.readings.list(shopId, morning)).map((each) => each.airTempC)).toEqual([20, 18]);
    expect(await store.readings.list(shopId, { ...morning, airZoneId: hall, source: 'forecast' })).toEqual([
      reading(9, 18, { source: 'forecast' }),
    ]);
    expect((await store.readings.latest(shopId, hall, at(12)))?.airTempC).toBe(21);
    expect((await store.readings.latest(shopId, hall, at(9), 'measured'))?.airTempC).toBe(20);
    expect(await store.readings.latest(shopId, hall, at(8))).toBeNull();
  });

  it('is of a zone that is there', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    const stray = store.readings.append(shopId, reading(9, 20, { airZoneId: 'attic' }));
    await expect(stray).rejects.toMatchObject({ code: 'unknownReference', field: 'airZoneId' });
  });
});
