import type { JobId, ShopId } from '../../trade/model/ids.ts';
import type { ShopDeps } from '../deps.ts';
import type { JobView } from '../jobs/job-view.ts';

export interface CloseWithoutWork {
  readonly shopId: ShopId;
  readonly jobId: JobId;
  readonly expectedVersion: number;
  readonly note: string;
}

/** Cancels a held or booked job; its slot is free at once. @throws NotFound, Stale, WrongState */
export async function cancel(deps: ShopDeps, input: CloseWithoutWork): Promise<JobView> {
  throw new Error(`not written yet ${deps.seed} ${input.jobId}`);
}

/** The car never came: allowed once its drop-off hour has passed. @throws NotFound, Stale, WrongState */
export async function noShow(deps: ShopDeps, input: CloseWithoutWork): Promise<JobView> {
  throw new Error(`not written yet ${deps.seed} ${input.jobId}`);
}
