import type { Store } from '../../../src/store/store.ts';
import type { ShopId } from '../../../src/trade/model/ids.ts';
import { Job } from '../../../src/trade/model/job.ts';
import type { Plan } from '../../../src/trade/model/plan.ts';
import { car, minutesIn, plan } from '../../api/a-planned-car.ts';
import { bay, coating, hose, lead, monday9, shop, wash, washer, yard, zone } from '../../api/shop-documents.ts';
import type { Known } from './valid-values.ts';

/** A shop of its own with cars in every state, and what in it can be named. */
export async function aRound(store: Store, number: number): Promise<Known> {
  const shopId = `round-${number}` as ShopId;
  const jobs = (['booked', 'inShop', 'done', 'cancelled'] as const).map((state, at) =>
    Job.parse({ ...car, id: `${shopId}-${at}`, state, version: 0 }),
  );
  const planned = jobs[0]!.id;
  await store.transaction(shopId, async (records) => {
    await records.shops.put({ ...shop, id: shopId }, 'new');
    await records.airZones.put(shopId, zone, 'new');
    for (const place of [bay, yard]) await records.places.put(shopId, place, 'new');
    await records.coatings.put(shopId, coating, 'new');
    for (const person of [lead, washer]) await records.technicians.put(shopId, person, 'new');
    await records.equipment.put(shopId, hose, 'new');
    await records.recipes.put(shopId, wash, 'new');
    for (const job of jobs) await records.jobs.put(shopId, job, 'new');
    const fact = { kind: 'arrived' as const, placeId: bay.id };
    const event = { clientId: `${shopId}-arrived`, occurredAt: minutesIn(-60), recordedAt: monday9, fact };
    await records.floorEvents.append(shopId, { jobId: jobs[1]!.id, ...event });
    const ofThis: Plan = {
      ...plan,
      operations: plan.operations.map((each) => ({ ...each, jobId: planned })),
      stays: plan.stays.map((each) => ({ ...each, jobId: planned })),
      jobs: plan.jobs.map((each) => ({ ...each, jobId: planned })),
    };
    await records.plans.publish({
      shopId,
      expectedVersion: 0,
      plan: ofThis,
      occupancy: ofThis.stays.map((stay) => ({ ...stay })),
      now: monday9,
    });
  });
  const people = [lead.id, washer.id];
  return {
    shopId: [shopId],
    jobId: jobs.map(({ id }) => id),
    places: [bay.id, yard.id],
    technicians: people,
    equipment: [hose.id],
    recipes: [wash.id],
    'air-zones': [zone.id],
    coatings: [coating.id],
    placeId: [bay.id, yard.id],
    blockedBy: [yard.id],
    technicianId: people,
    personId: people,
    by: people,
    to: people,
    dropOffBy: people,
    pickupBy: people,
    airZoneId: [zone.id],
    coatingId: [coating.id],
    recipeId: [wash.id],
    operation: wash.steps.map(({ key }) => key),
    timeZone: ['Europe/Berlin'],
  };
}
