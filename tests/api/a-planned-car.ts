import type { Store } from '../../src/store/store.ts';
import { Job } from '../../src/trade/model/job.ts';
import { Plan } from '../../src/trade/model/plan.ts';
import type { Instant } from '../../src/trade/model/time.ts';
import { bay, booking, lead, monday9, shop, wash, washer } from './shop-documents.ts';

const minute = 60_000;
/** An instant so many minutes after Monday 09:00. */
export const minutesIn = (minutes: number) => (monday9 + minutes * minute) as Instant;

/** Booked for Monday 10:00, promised for 15:00. */
export const car = Job.parse({
  ...booking,
  id: 'job-1',
  state: 'booked',
  addOns: [],
  priority: 1,
  earliestDropOff: minutesIn(60),
  dropOffAt: minutesIn(60),
  wantedPickupAt: null,
  promise: { pickupAt: minutesIn(360), givenAt: monday9, confidencePercent: 95 },
  holdUntil: null,
  depositNote: '',
  arranged: null,
  inspection: null,
  scope: null,
  priceMinor: 12000,
  notes: '',
  createdAt: monday9,
  version: 0,
});

const lengths = [20, 30, 60, 20, 20];

function operations() {
  let at = 60;
  const planned = wash.steps.map((step, index) => {
    const start = step.key === 'handover' ? 360 : at;
    const end = start + (lengths[index] ?? 30);
    at = end;
    return {
      jobId: car.id,
      operation: step.key,
      kind: step.kind,
      label: step.label,
      start: minutesIn(start),
      end: minutesIn(end),
      pieces: [{ from: minutesIn(start), to: minutesIn(end) }],
      placeId: bay.id,
      people: [step.crew.skill === 'wash' ? washer.id : lead.id],
      sharePercent: 100,
      state: 'planned',
      remedy: false,
      windowClosesAt: null,
    };
  });
  return planned;
}

/** A plan of that one car: worked 10:00 to 12:30, handed over at 15:00. */
export const plan = Plan.parse({
  version: 1,
  madeAt: monday9,
  reason: 'test',
  objective: [{ tier: 'broken', value: 0, bound: 0 }],
  seed: 7,
  interrupted: false,
  operations: operations(),
  stays: [{ jobId: car.id, placeId: bay.id, from: minutesIn(60), to: minutesIn(390) }],
  jobs: [
    { jobId: car.id, dropOffAt: minutesIn(60), readyAt: minutesIn(210), pickupAt: minutesIn(360), lateMinutes: 0 },
  ],
});

/** Puts the car and its plan into the store, as a booking would have. */
export async function putPlannedCar(store: Store): Promise<void> {
  await store.jobs.put(shop.id, car, 'new');
  await store.plans.publish({
    shopId: shop.id,
    expectedVersion: 0,
    plan,
    occupancy: plan.stays.map((stay) => ({ ...stay })),
    now: monday9,
  });
}
