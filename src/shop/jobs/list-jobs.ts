import type { ShopId } from '../../trade/model/ids.ts';
import type { JobState } from '../../trade/model/job.ts';
import type { ShopDeps } from '../deps.ts';
import type { JobView } from './job-view.ts';

export interface ListJobs {
  readonly shopId: ShopId;
  /** Absent: every state. */
  readonly states?: readonly JobState[];
  /** 1 to 200. */
  readonly limit: number;
  /** `next` of the page before. */
  readonly cursor?: string;
}

/** Jobs in the order they were taken, a page at a time; `next` is null on the last page. @throws Invalid (cursor) */
export async function listJobs(
  deps: ShopDeps,
  input: ListJobs,
): Promise<{ jobs: readonly JobView[]; next: string | null }> {
  throw new Error(`not written yet ${deps.seed} ${input.limit}`);
}
