import type { Store } from '../../src/store/store.ts';
import { Job } from '../../src/trade/model/job.ts';
import { booking, shop } from './a-shop.ts';

let jobs = 0;

/** A booked job of the invented shop, put straight into the store: no plan is made. */
export async function aJob(store: Store, more: Partial<Job> = {}): Promise<Job> {
  jobs += 1;
  const dropOffAt = Date.parse('2026-03-03T09:00:00+01:00');
  const job = Job.parse({
    ...booking,
    id: `job-${jobs}`,
    state: 'booked',
    addOns: [],
    priority: 1,
    earliestDropOff: dropOffAt,
    dropOffAt,
    wantedPickupAt: null,
    promise: {
      pickupAt: Date.parse('2026-03-03T14:00:00+01:00'),
      givenAt: Date.parse('2026-03-02T09:00:00+01:00'),
      confidencePercent: 90,
    },
    holdUntil: null,
    depositNote: '',
    arranged: null,
    inspection: null,
    scope: null,
    priceMinor: 12_000,
    notes: 'Lead: mind the sticker of the son (a note of the shop)',
    createdAt: Date.parse('2026-03-02T09:00:00+01:00'),
    version: 0,
    ...more,
  });
  return (await store.jobs.put(shop.id, job, 'new')).value;
}
