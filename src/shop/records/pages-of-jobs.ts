import type { JobFilter, Records } from '../../store/store.ts';
import type { ShopId } from '../../trade/model/ids.ts';
import type { Job } from '../../trade/model/job.ts';

/** The most that the store gives at once. */
const MOST_AT_ONCE = 500;

/** All jobs that fit a filter, so many at a time, in the store's order. */
export async function* pagesOfJobs(
  records: Records,
  shopId: ShopId,
  filter: Omit<JobFilter, 'cursor' | 'limit'>,
  atOnce = MOST_AT_ONCE,
): AsyncGenerator<readonly Job[]> {
  let cursor: string | null = null;
  do {
    const page = await records.jobs.list(shopId, { ...filter, limit: atOnce, ...(cursor === null ? {} : { cursor }) });
    yield page.items.map((each) => each.value);
    cursor = page.nextCursor;
  } while (cursor !== null);
}
