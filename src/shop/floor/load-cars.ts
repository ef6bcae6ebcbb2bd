import type { JobFilter, Records } from '../../store/store.ts';
import { eventsByJob } from '../../trade/formulate/events-by-job.ts';
import type { ShopId } from '../../trade/model/ids.ts';
import type { FloorEvent, Job } from '../../trade/model/job.ts';
import type { Recipe } from '../../trade/model/recipe.ts';
import type { Instant } from '../../trade/model/time.ts';
import { pagesOfJobs } from '../records/pages-of-jobs.ts';
import type { CarOnFloor } from './gates/situation.ts';
import { whatHappened } from './what-happened.ts';

/** A car's visit with the facts of it. */
export interface Visit {
  readonly job: Job;
  readonly recipe: Recipe;
  readonly events: readonly FloorEvent[];
}

/** Which cars: those there in a stretch, or those promised for one; of some states only. */
export type WhichVisits = Pick<JobFilter, 'visiting' | 'promised' | 'states'>;

/** The cars of some visits, closed jobs included, with what has happened to them. */
export async function loadCars(
  records: Records,
  shopId: ShopId,
  which: WhichVisits,
  now: Instant,
): Promise<readonly CarOnFloor[]> {
  return carsAt(await loadVisits(records, shopId, which), now);
}

/** What has happened to cars until now. */
export function carsAt(visits: readonly Visit[], now: Instant): readonly CarOnFloor[] {
  return visits.map(({ job, recipe, events }) => ({ job, recipe, happened: whatHappened(events, now, job.leftAt) }));
}

/** Visits with their facts, closed jobs included. */
export async function loadVisits(records: Records, shopId: ShopId, which: WhichVisits): Promise<readonly Visit[]> {
  const recipes = new Map((await records.recipes.list(shopId)).map((each) => [each.value.id, each.value]));
  const jobs: Job[] = [];
  for await (const page of pagesOfJobs(records, shopId, which)) jobs.push(...page);
  const events = await records.floorEvents.listByJobs(
    shopId,
    jobs.map((each) => each.id),
  );
  const eventsOf = eventsByJob(events);
  return jobs.flatMap((job) => {
    const recipe = recipes.get(job.recipeId);
    return recipe === undefined ? [] : [{ job, recipe, events: eventsOf.get(job.id) ?? [] }];
  });
}
