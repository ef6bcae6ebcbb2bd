import { InvalidCursor } from '../../store/store.ts';
import type { ShopId } from '../../trade/model/ids.ts';
import type { JobState } from '../../trade/model/job.ts';
import type { Instant } from '../../trade/model/time.ts';
import type { ShopDeps } from '../deps.ts';
import { Invalid } from '../problems/problems.ts';
import { foundShop } from '../records/found.ts';
import { type JobView, jobView } from './job-view.ts';

export interface ListJobs {
  readonly shopId: ShopId;
  /** Absent: every state. */
  readonly states?: readonly JobState[];
  /** Jobs whose visit touches this half-open stretch. */
  readonly visiting?: { readonly from: Instant; readonly to: Instant };
  /** Part of the customer's name, phone, e-mail or the registration. */
  readonly search?: string;
  /** 1 to 200. */
  readonly limit: number;
  /** `next` of the page before. */
  readonly cursor?: string;
}

/** Jobs by when the car came or is to come, a page at a time; `next` is null on the last page. @throws NotFound (shop), Invalid (cursor) */
export async function listJobs(
  deps: Pick<ShopDeps, 'store' | 'clock'>,
  input: ListJobs,
): Promise<{ jobs: readonly JobView[]; next: string | null }> {
  const { shopId, visiting, ...rest } = input;
  const filter = visiting === undefined ? rest : { ...rest, visiting: { ...visiting, now: deps.clock() } };
  await foundShop(deps.store, shopId);
  try {
    const page = await deps.store.jobs.list(shopId, filter);
    const plan = await deps.store.plans.current(shopId);
    return { jobs: page.items.map((each) => jobView(each.value, plan)), next: page.nextCursor };
  } catch (refusal) {
    if (refusal instanceof InvalidCursor) throw new Invalid('The cursor is not one that a list gave.', 'cursor');
    throw refusal;
  }
}
