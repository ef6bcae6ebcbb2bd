import type { Records } from '../../store/store.ts';
import type { Book } from '../../trade/formulate/book.ts';
import type { ShopId } from '../../trade/model/ids.ts';
import type { Job } from '../../trade/model/job.ts';
import type { Instant } from '../../trade/model/time.ts';
import { foundShop } from '../records/found.ts';

const HOUR = 3_600_000;
const DAY = 24 * HOUR;

/** Days ahead that a plan covers at least. */
export const PLAN_DAYS = 28;

/** Everything a plan of the shop is made from, as it stands now. Holds whose time is up are left out. @throws NotFound */
export async function loadBook(records: Records, shopId: ShopId, now: Instant): Promise<Book> {
  const shop = await foundShop(records, shopId);
  const previousPlan = await records.plans.current(shopId);
  const jobs = (await records.jobs.listOpen(shopId)).map((each) => each.value).filter((job) => isLive(job, now));
  const jobIds = jobs.map((job) => job.id);
  const [airZones, places, technicians, equipment, coatings, recipes, events, measured, forecast, normal] =
    await Promise.all([
      records.airZones.list(shopId),
      records.places.list(shopId),
      records.technicians.list(shopId),
      records.equipment.list(shopId),
      records.coatings.list(shopId),
      records.recipes.list(shopId),
      records.floorEvents.listByJobs(shopId, jobIds),
      records.readings.list(shopId, { ...span(now, 2 * HOUR, HOUR), source: 'measured' }),
      records.readings.list(shopId, { ...span(now, 6 * HOUR, 30 * DAY), source: 'forecast' }),
      records.readings.list(shopId, { ...span(now, 62 * DAY, 400 * DAY), source: 'normal' }),
    ]);
  return {
    shop,
    airZones: airZones.map((each) => each.value),
    places: places.map((each) => each.value),
    technicians: technicians.map((each) => each.value),
    equipment: equipment.map((each) => each.value),
    coatings: coatings.map((each) => each.value),
    recipes: recipes.map((each) => each.value),
    jobs,
    events,
    readings: [...measured, ...forecast, ...normal],
    previousPlan,
    now,
    horizonDays: PLAN_DAYS,
  };
}

/** A hold lives until its time is up; every other open job lives. */
export function isLive(job: Job, now: Instant): boolean {
  return job.state !== 'held' || job.holdUntil === null || job.holdUntil > now;
}

const span = (now: Instant, before: number, after: number) => ({
  from: Math.max(0, now - before) as Instant,
  to: (now + after) as Instant,
});
