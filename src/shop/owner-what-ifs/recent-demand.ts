import type { Records } from '../../store/store.ts';
import type { ShopId } from '../../trade/model/ids.ts';
import type { Job } from '../../trade/model/job.ts';
import type { Instant } from '../../trade/model/time.ts';
import { toldToCome } from '../../trade/model/told-to-come.ts';
import { pagesOfJobs } from '../records/pages-of-jobs.ts';

const DAY = 86_400_000;
const WEEK = 7 * DAY;
/** Weeks behind and ahead that say what the shop is asked for. */
const WEEKS_BEHIND = 8;
const WEEKS_AHEAD = 4;

/** The jobs that months are drawn from, and over how many weeks they came. */
export interface RecentDemand {
  readonly jobs: readonly Job[];
  readonly weeks: number;
}

/** Cars that came or are expected, eight weeks back to four ahead; what was cancelled or only held is left out. */
export async function recentDemand(records: Records, shopId: ShopId, now: Instant): Promise<RecentDemand> {
  const visiting = { from: (now - WEEKS_BEHIND * WEEK) as Instant, to: (now + WEEKS_AHEAD * WEEK) as Instant, now };
  const jobs: Job[] = [];
  const filter = { states: ['booked', 'inShop', 'done'], visiting } as const;
  for await (const page of pagesOfJobs(records, shopId, filter)) jobs.push(...page);
  return { jobs, weeks: weeksOf(jobs.map(comesAt)) };
}

/** When a car came or is told to come. */
export const comesAt = (job: Job): Instant => job.cameAt ?? toldToCome(job);

/** Whole weeks from the first to the last drop-off, one at least. */
function weeksOf(comings: readonly number[]): number {
  if (comings.length === 0) return 1;
  return Math.max(1, Math.round((Math.max(...comings) - Math.min(...comings) + DAY) / WEEK));
}
