import type { KnownWritten, Records } from '../../store/store.ts';
import type { ShopData } from '../../trade/formulate/book.ts';
import type { JobId, ShopId } from '../../trade/model/ids.ts';
import type { FloorEvent, Job } from '../../trade/model/job.ts';
import type { Plan } from '../../trade/model/plan.ts';
import { carsWithNewFacts } from './cars-with-new-facts.ts';
import { foundShop } from './found.ts';
import { madeOnce } from './made-once.ts';

/** A shop with its open jobs, what has happened to them, and its plan. */
export interface ShopAsItStands extends ShopData {
  /** Open by their state; holds whose time is up among them. */
  readonly openJobs: readonly Job[];
  /** Of the open jobs, each job's in order. */
  readonly events: readonly FloorEvent[];
  readonly plan: Plan | null;
}

/** Read once; after that what has changed is, and all of it only when its own data did or another process wrote. @throws NotFound */
export function shopAsItStands(records: Records, shopId: ShopId): Promise<ShopAsItStands> {
  return records.whileUnchanged(
    shopId,
    'as it stands',
    () => read(records, shopId),
    (was, written) => amended(records, shopId, was, written),
  );
}

/** Its open jobs by their ids. */
export function openJobsById({ openJobs }: Pick<ShopAsItStands, 'openJobs'>): ReadonlyMap<JobId, Job> {
  return madeOnce(openJobs, 'by id', [], () => new Map(openJobs.map((job) => [job.id, job])));
}

async function amended(
  records: Records,
  shopId: ShopId,
  was: ShopAsItStands,
  written: readonly KnownWritten[],
): Promise<ShopAsItStands> {
  const isWritten = (what: KnownWritten['what']) => written.some((each) => each.what === what);
  const plan = isWritten('plan') ? await records.plans.current(shopId) : was.plan;
  if (isWritten('job')) {
    const openJobs = await readOpenJobs(records, shopId);
    return { ...was, plan, openJobs, events: await records.floorEvents.listByJobs(shopId, idsOf(openJobs)) };
  }
  if (!isWritten('facts')) return plan === was.plan ? was : { ...was, plan };
  const grown = carsWithNewFacts(written);
  const fresh = await records.floorEvents.listByJobs(
    shopId,
    idsOf(was.openJobs).filter((id) => grown.has(id)),
  );
  return { ...was, plan, events: withFresh(was.events, grown, fresh) };
}

/** Events by job, those of the jobs in `grown` read anew. Told often of a shop that has thousands: they are not sorted again. */
function withFresh(events: readonly FloorEvent[], grown: ReadonlySet<JobId>, fresh: readonly FloorEvent[]) {
  const merged: FloorEvent[] = [];
  let next = 0;
  for (const event of events) {
    if (grown.has(event.jobId)) continue;
    for (; next < fresh.length && fresh[next]!.jobId < event.jobId; next++) merged.push(fresh[next]!);
    merged.push(event);
  }
  for (; next < fresh.length; next++) merged.push(fresh[next]!);
  return merged;
}

async function read(records: Records, shopId: ShopId): Promise<ShopAsItStands> {
  const shop = await foundShop(records, shopId);
  const plan = await records.plans.current(shopId);
  const openJobs = await readOpenJobs(records, shopId);
  const [airZones, places, technicians, equipment, coatings, recipes, events] = await Promise.all([
    records.airZones.list(shopId),
    records.places.list(shopId),
    records.technicians.list(shopId),
    records.equipment.list(shopId),
    records.coatings.list(shopId),
    records.recipes.list(shopId),
    records.floorEvents.listByJobs(shopId, idsOf(openJobs)),
  ]);
  return {
    shop,
    airZones: airZones.map((each) => each.value),
    places: places.map((each) => each.value),
    technicians: technicians.map((each) => each.value),
    equipment: equipment.map((each) => each.value),
    coatings: coatings.map((each) => each.value),
    recipes: recipes.map((each) => each.value),
    openJobs,
    events,
    plan,
  };
}

async function readOpenJobs(records: Records, shopId: ShopId): Promise<readonly Job[]> {
  return (await records.jobs.listOpen(shopId)).map((each) => each.value);
}

const idsOf = (jobs: readonly Job[]): JobId[] => jobs.map(({ id }) => id);
