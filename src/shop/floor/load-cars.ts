import type { JobFilter, Records } from '../../store/store.ts';
import type { JobId, ShopId } from '../../trade/model/ids.ts';
import type { Job } from '../../trade/model/job.ts';
import type { Instant } from '../../trade/model/time.ts';
import type { CarOnFloor } from './gates/situation.ts';
import { whatHappened } from './what-happened.ts';

/** The cars a list of jobs has, closed jobs included, with what has happened to them; those of `except` left out. */
export async function loadCars(
  records: Records,
  shopId: ShopId,
  which: Pick<JobFilter, 'visiting' | 'promised'>,
  now: Instant,
  except: ReadonlySet<JobId> = new Set(),
): Promise<readonly CarOnFloor[]> {
  const recipes = new Map((await records.recipes.list(shopId)).map((each) => [each.value.id, each.value]));
  const jobs: Job[] = [];
  let cursor: string | undefined;
  do {
    const page = await records.jobs.list(shopId, { ...which, limit: 500, ...(cursor === undefined ? {} : { cursor }) });
    jobs.push(...page.items.map((each) => each.value).filter((job) => !except.has(job.id)));
    cursor = page.nextCursor ?? undefined;
  } while (cursor !== undefined);
  const events = await records.floorEvents.listByJobs(
    shopId,
    jobs.map((each) => each.id),
  );
  return jobs.flatMap((job) => {
    const recipe = recipes.get(job.recipeId);
    return recipe === undefined
      ? []
      : [
          {
            job,
            recipe,
            happened: whatHappened(
              events.filter((event) => event.jobId === job.id),
              now,
              job.leftAt,
            ),
          },
        ];
  });
}
