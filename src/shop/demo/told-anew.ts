import type { Book } from '../../trade/formulate/book.ts';
import type { JobId } from '../../trade/model/ids.ts';
import type { Job } from '../../trade/model/job.ts';
import type { Plan } from '../../trade/model/plan.ts';
import { keepInBook } from '../booking/keep-in-book.ts';
import { openResidentBook } from '../planning/open-resident-book.ts';
import type { Inserted, ResidentBook } from '../planning/resident-book.ts';
import { AT_RISK_POINTS } from '../promises/at-risk.ts';
import { planOutlook } from '../promises/plan-outlook.ts';
import { withOnly } from './with-only.ts';

/** Bookings with the plan they were told from. */
export interface Sold {
  readonly plan: Plan;
  readonly jobs: readonly Job[];
}

/** An hour told anew may make another less sure: so often all are looked at. */
const MOST_ROUNDS = 2;
/** Every booking of the demo comes in fewer days. */
const ALL_DAYS = 60;

/**
 * Whoever is booked later may have made an hour that was told before less sure. Such an hour is told anew, as it would be in the
 * full book, so that the demo does not open with promises at risk.
 */
export function toldAnew(book: Book, sold: Sold, seed: number): Sold {
  const line = book.shop.promiseConfidencePercent - AT_RISK_POINTS / 2;
  let told = sold;
  for (let round = 0; round < MOST_ROUNDS; round++) {
    const { cars } = planOutlook({ ...book, jobs: told.jobs, previousPlan: told.plan }, seed, ALL_DAYS);
    const unsure = cars.filter(({ probabilityPercent }) => probabilityPercent < line);
    if (unsure.length === 0) break;
    for (const { jobId } of unsure) told = oneToldAnew(book, told, jobId, seed);
  }
  return told;
}

/** One booking told its hour in the book of all others: the earliest that is sure enough, or what `tell` makes of it. */
export function oneToldAnew(
  book: Book,
  { plan, jobs }: Sold,
  id: JobId,
  seed: number,
  tell: (resident: ResidentBook, kept: Inserted) => Inserted = (_, kept) => kept,
): Sold {
  const others = jobs.filter((job) => job.id !== id);
  const job = jobs.find((each) => each.id === id)!;
  const resident = openResidentBook({ ...book, jobs: others, previousPlan: withOnly(plan, others) }, seed);
  const kept = resident && keepInBook(resident, { ...job, promise: null }, { kind: 'earliest' });
  if (resident === null || kept === null) return { plan, jobs };
  const told = tell(resident, kept);
  return {
    plan: resident.wholePlan(told, { reason: 'demo', seed }).plan,
    jobs: jobs.map((each) => (each.id === id ? told.job : each)),
  };
}
