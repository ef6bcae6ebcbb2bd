import { expect, it } from 'vitest';
import { StalePlan } from '../../src/store/store.ts';
import type { ShopId } from '../../src/trade/model/ids.ts';
import { onEachDatabase } from './fresh-database.ts';
import {
  aPlan,
  aTechnician,
  at,
  jobId,
  occupancyOf,
  type PlannedVisit,
  placeId,
  stockedShop,
  technicianId,
} from './samples.ts';

const publication = (shopId: ShopId, version: number, visits: readonly PlannedVisit[]) => ({
  shopId,
  expectedVersion: version - 1,
  plan: aPlan(version, visits),
  occupancy: occupancyOf(visits),
  now: at(0),
});

const VISITS: PlannedVisit[] = [
  { jobId: 'j1', placeId: 'bay1', from: 8, to: 12, technicianId: 'ann' },
  { jobId: 'j2', placeId: 'bay2', from: 10, to: 14 },
  { jobId: 'j3', placeId: 'bay1', from: 32, to: 40, technicianId: 'ann' },
];

onEachDatabase('a published plan', (given) => {
  it('is the current one, whole, as it was made', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    expect(await store.plans.currentVersion(shopId)).toBe(0);
    expect(await store.plans.current(shopId)).toBeNull();
    await store.plans.publish(publication(shopId, 1, VISITS));
    expect(await store.plans.currentVersion(shopId)).toBe(1);
    expect(await store.plans.current(shopId)).toEqual(aPlan(1, VISITS));
  });

  it('tells of one job when it comes, is ready and goes, with its work and stays', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    const plan = aPlan(1, VISITS);
    await store.plans.publish(publication(shopId, 1, VISITS));
    expect(await store.plans.job(shopId, jobId('j2'))).toEqual({
      job: plan.jobs[1],
      operations: [plan.operations[1]],
      stays: [plan.stays[1]],
    });
    expect(await store.plans.job(shopId, jobId('j9'))).toBeNull();
  });

  it('takes the place of the one before, of which no work and no occupancy is left', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    await store.plans.publish(publication(shopId, 1, VISITS));
    const moved: PlannedVisit[] = [{ jobId: 'j2', placeId: 'bay1', from: 9, to: 13 }];
    await store.plans.publish(publication(shopId, 2, moved));
    expect((await store.plans.job(shopId, jobId('j2')))!.operations).toEqual(aPlan(2, moved).operations);
    expect(await store.plans.job(shopId, jobId('j1'))).toBeNull();
    const freed = { placeId: placeId('bay2'), from: at(10), to: at(14), owner: 'quote', expiresAt: at(48) };
    await expect(store.holds.take(shopId, [freed], at(0))).resolves.toBeUndefined();
  });

  it('is refused when another was published since the one it was made from', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    await store.plans.publish(publication(shopId, 1, VISITS));
    const late = store.plans.publish(publication(shopId, 1, []));
    await expect(late).rejects.toBeInstanceOf(StalePlan);
    await expect(late).rejects.toMatchObject({ expected: 0, actual: 1 });
    const early = store.plans.publish(publication(shopId, 3, []));
    await expect(early).rejects.toBeInstanceOf(StalePlan);
    expect(await store.plans.current(shopId)).toEqual(aPlan(1, VISITS));
  });

  it('is the next version after the one it was made from', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    const skipping = store.plans.publish({ ...publication(shopId, 1, VISITS), plan: aPlan(2, VISITS) });
    await expect(skipping).rejects.toMatchObject({ code: 'invalidDocument', problems: [{ field: 'version' }] });
  });

  it('names no job, place or person that is not there', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    const refusal = (visit: PlannedVisit) => store.plans.publish(publication(shopId, 1, [visit]));
    const visit = VISITS[0]!;
    await expect(refusal({ ...visit, jobId: 'j9' })).rejects.toMatchObject({ field: 'plan.operations.0.jobId' });
    await expect(refusal({ ...visit, placeId: 'bay9' })).rejects.toMatchObject({ field: 'plan.operations.0.placeId' });
    await expect(refusal({ ...visit, technicianId: 'bo' })).rejects.toMatchObject({
      field: 'plan.operations.0.people.0',
    });
    expect(await store.plans.currentVersion(shopId)).toBe(0);
  });

  it('keeps its jobs, places and people from being deleted while it is the current one', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    await store.technicians.put(shopId, aTechnician('bo'), 'new');
    await store.plans.publish(publication(shopId, 1, VISITS));
    const refused = { code: 'stillReferenced', by: expect.arrayContaining(['plan']) };
    await expect(store.jobs.delete(shopId, jobId('j1'), 1)).rejects.toMatchObject(refused);
    await expect(store.places.delete(shopId, placeId('bay2'), 1)).rejects.toMatchObject(refused);
    await expect(store.technicians.delete(shopId, technicianId('ann'), 1)).rejects.toMatchObject(refused);
    await store.technicians.delete(shopId, technicianId('bo'), 1);
    await store.plans.publish(publication(shopId, 2, []));
    await store.jobs.delete(shopId, jobId('j1'), 1);
    expect(await store.plans.get(shopId, 1)).toEqual(aPlan(1, VISITS));
  });

  it('stays in the history until it is pruned, newest first', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    for (const version of [1, 2, 3, 4]) await store.plans.publish(publication(shopId, version, VISITS));
    expect((await store.plans.history(shopId, 3)).map((each) => each.version)).toEqual([4, 3, 2]);
    const { objective, madeAt, reason, interrupted } = aPlan(2, VISITS);
    expect((await store.plans.history(shopId))[2]).toEqual({ version: 2, objective, madeAt, reason, interrupted });
    expect(await store.plans.prune(shopId, 2)).toBe(2);
    expect((await store.plans.history(shopId)).map((each) => each.version)).toEqual([4, 3]);
    expect(await store.plans.get(shopId, 1)).toBeNull();
    expect(await store.plans.prune(shopId, 0)).toBe(1);
    expect(await store.plans.current(shopId)).toEqual(aPlan(4, VISITS));
  });

  it('commits with what else its transaction does, or not at all', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    const failing = store.transaction(shopId, async (records) => {
      await records.plans.publish(publication(shopId, 1, VISITS));
      expect(await records.plans.currentVersion(shopId)).toBe(1);
      throw new Error('told too late');
    });
    await expect(failing).rejects.toThrow('told too late');
    expect(await store.plans.currentVersion(shopId)).toBe(0);
    expect(await store.plans.job(shopId, jobId('j1'))).toBeNull();
  });

  it('of hundreds of operations is published and read whole', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    const many: PlannedVisit[] = Array.from({ length: 600 }, (_, index) => ({
      jobId: `j${1 + (index % 3)}`,
      placeId: `bay${1 + (index % 2)}`,
      from: index,
      to: index + 1,
      technicianId: 'ann',
    }));
    const plan = aPlan(1, many);
    const keyed = {
      ...plan,
      operations: plan.operations.map((each, index) => ({
        ...each,
        operation: `wash.${index}` as typeof each.operation,
      })),
      jobs: plan.jobs.slice(0, 3),
    };
    await store.plans.publish({ ...publication(shopId, 1, many), plan: keyed });
    for (const id of ['j1', 'j2', 'j3']) {
      const { operations } = (await store.plans.job(shopId, jobId(id)))!;
      expect(operations).toEqual(keyed.operations.filter((each) => each.jobId === id));
    }
  });
});
