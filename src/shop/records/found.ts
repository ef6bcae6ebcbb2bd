import type { Records, Versioned } from '../../store/store.ts';
import type { JobId, ShopId } from '../../trade/model/ids.ts';
import type { Job, JobState } from '../../trade/model/job.ts';
import type { Shop } from '../../trade/model/shop.ts';
import { NotFound, Stale, WrongState } from '../problems/problems.ts';

/** The shop. @throws NotFound */
export async function foundShop(records: Records, shopId: ShopId): Promise<Shop> {
  const shop = await records.shops.get(shopId);
  if (shop === null) throw new NotFound('shop', shopId, 'shopId');
  return shop.value;
}

/** The job. @throws NotFound */
export async function foundJob(records: Records, shopId: ShopId, jobId: JobId): Promise<Versioned<Job>> {
  const job = await records.jobs.get(shopId, jobId);
  if (job === null) throw new NotFound('job', jobId, 'jobId');
  return job;
}

/** The job, at the version the caller read and in a state that allows what is asked. @throws NotFound, Stale, WrongState */
export async function jobToChange(
  records: Records,
  input: { readonly shopId: ShopId; readonly jobId: JobId; readonly expectedVersion: number },
  allowed: readonly JobState[],
): Promise<Job> {
  const found = await foundJob(records, input.shopId, input.jobId);
  if (found.version !== input.expectedVersion) throw new Stale('job', input.expectedVersion, found.version);
  if (!allowed.includes(found.value.state)) {
    throw new WrongState(`The job is ${stateWords[found.value.state]}.`, 'state');
  }
  return found.value;
}

const stateWords: Record<JobState, string> = {
  held: 'only held',
  booked: 'booked and not yet in the shop',
  inShop: 'in the shop',
  done: 'done',
  cancelled: 'cancelled',
  noShow: 'closed, since the car never came',
  lapsed: 'closed, since its hold ran out',
};
