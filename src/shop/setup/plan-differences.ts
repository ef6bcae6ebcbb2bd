import type { JobId } from '../../trade/model/ids.ts';
import type { Instant } from '../../trade/model/time.ts';
import { carName } from '../jobs/job-view.ts';
import type { DraftPlan } from '../planning/draft-plan.ts';

/** A promise that would be kept as the shop is and broken as it would be. */
export interface PromiseAtStake {
  readonly jobId: JobId;
  readonly car: string;
  readonly promisedPickupAt: Instant;
  readonly lateMinutesBefore: number;
  readonly lateMinutesAfter: number;
}

export interface CarMoved {
  readonly jobId: JobId;
  readonly car: string;
  readonly readyAtBefore: Instant;
  readonly readyAtAfter: Instant;
}

export interface PlanDifferences {
  /** Promises that would be broken, or broken worse, than without the change. */
  readonly promises: readonly PromiseAtStake[];
  /** Cars that would be ready at another time, the latest first. */
  readonly moved: readonly CarMoved[];
  /** Cars that could not be planned at all any more. */
  readonly leftOut: readonly { readonly jobId: JobId; readonly car: string; readonly reason: string }[];
  /** Decisions that would have to be given up. */
  readonly released: readonly string[];
}

/** What differs, for the customers, between two plans of the same cars. */
export function planDifferences(before: DraftPlan, after: DraftPlan): PlanDifferences {
  const jobs = new Map(before.book.jobs.map((job) => [job.id, job]));
  const earlier = new Map(before.plan.jobs.map((job) => [job.jobId, job]));
  const promises: PromiseAtStake[] = [];
  const moved: CarMoved[] = [];
  for (const { jobId, readyAt, lateMinutes } of after.plan.jobs) {
    const job = jobs.get(jobId);
    const was = earlier.get(jobId);
    if (!job || !was) continue;
    const car = carName(job);
    if (job.promise && lateMinutes > was.lateMinutes) {
      promises.push({
        jobId,
        car,
        promisedPickupAt: job.promise.pickupAt,
        lateMinutesBefore: was.lateMinutes,
        lateMinutesAfter: lateMinutes,
      });
    }
    if (readyAt !== was.readyAt) moved.push({ jobId, car, readyAtBefore: was.readyAt, readyAtAfter: readyAt });
  }
  const leftBefore = new Set(cannotBePlanned(before).map((each) => each.jobId));
  const leftOut = cannotBePlanned(after)
    .filter((each) => !leftBefore.has(each.jobId))
    .map(({ jobId, reason }) => {
      const job = jobs.get(jobId);
      return { jobId, car: job ? carName(job) : jobId, reason };
    });
  const delay = (car: CarMoved) => car.readyAtAfter - car.readyAtBefore;
  return {
    promises,
    moved: moved.sort((a, b) => delay(b) - delay(a)),
    leftOut,
    released: after.released.filter((text) => !before.released.includes(text)),
  };
}

/** Cars that could not be formulated, and cars that were set aside because no plan holds them. */
function cannotBePlanned({ formulation, exceptions }: DraftPlan): { jobId: JobId; reason: string }[] {
  const leftOut = new Map(formulation.leftOut.map(({ jobId, reason }) => [jobId, reason]));
  for (const { kind, jobId, text } of exceptions) {
    if (kind === 'planRejected' && jobId !== null && !leftOut.has(jobId)) leftOut.set(jobId, text);
  }
  return [...leftOut].map(([jobId, reason]) => ({ jobId, reason }));
}
