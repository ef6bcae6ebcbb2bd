import { Book } from '../construct/book.ts';
import { EarliestFit } from '../construct/earliest-fit.ts';
import type { JobModel } from '../construct/job-model.ts';
import type { ShopModel } from '../construct/shop-model.ts';
import { boundJob, type JobBound } from './job-bound.ts';

export interface ShopBound {
  /** By tier, by itself. */
  readonly tiers: Float64Array;
  readonly jobs: readonly JobBound[];
}

/** A lower bound for each tier: every job alone in the shop, added up. Overtime and change are bounded by nothing. */
export function boundShop(shop: ShopModel, jobs: readonly JobModel[]): ShopBound {
  const fit = new EarliestFit(new Book(shop, []));
  const bounds = jobs.map((job) => boundJob(job, fit, shop.now, shop.horizon));
  const tiers = Float64Array.from(shop.problem.tiers, (tier) => {
    let total = 0;
    for (const [j, bound] of bounds.entries()) {
      const job = jobs[j]!;
      if (tier === 'makespan') total = Math.max(total, bound.lastEnd);
      else if (tier === 'broken') total += bound.pickup > job.promiseAt ? job.promiseWeight : 0;
      else if (tier === 'tardiness') {
        total +=
          Math.max(0, bound.pickup - job.promiseAt) * job.promiseWeight +
          Math.max(0, bound.pickup - job.dueAt) * job.dueWeight;
      } else if (tier === 'lead') total += bound.lead;
    }
    return total;
  });
  return { tiers, jobs: bounds };
}
