import type { Records } from '../../store/store.ts';
import type { ShopData } from '../../trade/formulate/book.ts';
import type { ShopId } from '../../trade/model/ids.ts';
import type { FloorEvent, Job } from '../../trade/model/job.ts';
import type { Plan } from '../../trade/model/plan.ts';
import { foundShop } from './found.ts';

/** A shop with its open jobs, what has happened to them, and its plan. */
export interface ShopAsItStands extends ShopData {
  /** Open by their state; holds whose time is up among them. */
  readonly openJobs: readonly Job[];
  /** Of the open jobs, each job's in order. */
  readonly events: readonly FloorEvent[];
  readonly plan: Plan | null;
}

/** Read once, and again only when anything of the shop has changed. @throws NotFound */
export function shopAsItStands(records: Records, shopId: ShopId): Promise<ShopAsItStands> {
  return records.whileUnchanged(shopId, 'as it stands', () => read(records, shopId));
}

async function read(records: Records, shopId: ShopId): Promise<ShopAsItStands> {
  const shop = await foundShop(records, shopId);
  const plan = await records.plans.current(shopId);
  const openJobs = (await records.jobs.listOpen(shopId)).map((each) => each.value);
  const jobIds = openJobs.map((job) => job.id);
  const [airZones, places, technicians, equipment, coatings, recipes, events] = await Promise.all([
    records.airZones.list(shopId),
    records.places.list(shopId),
    records.technicians.list(shopId),
    records.equipment.list(shopId),
    records.coatings.list(shopId),
    records.recipes.list(shopId),
    records.floorEvents.listByJobs(shopId, jobIds),
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
