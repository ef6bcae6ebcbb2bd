import type { Records, Store } from '../../store/store.ts';
import type { JobId, ShopId } from '../../trade/model/ids.ts';
import type { Job } from '../../trade/model/job.ts';
import type { Plan } from '../../trade/model/plan.ts';
import type { Instant } from '../../trade/model/time.ts';
import { carName } from '../jobs/job-view.ts';
import { raiseExceptions, type ToRaise } from '../records/raise-exception.ts';
import { tell } from '../records/tell.ts';
import type { AlsoAnswer } from '../requests/answer-once.ts';
import { occupancyOf } from './occupancy.ts';

export interface Publishing {
  readonly shopId: ShopId;
  /** Checked by the independent checker; its version is set here. */
  readonly plan: Plan;
  /** Version of the plan it was made from. */
  readonly expectedVersion: number;
  readonly jobs: readonly Job[];
  /** The plan that stood: a promise already broken in it that is now broken by more is told again. */
  readonly standing?: Plan | null;
  readonly exceptions: readonly ToRaise[];
  /** A better plan is looked for after it: only a promise that was broken already is told as broken. */
  readonly isFirst?: boolean;
  /** Written in the same transaction, before the plan: a new job, a changed one. */
  readonly alsoWrite?: (records: Records) => Promise<void>;
  /** Written in the same transaction after everything else: the reply that tells of it. */
  readonly alsoAnswer?: AlsoAnswer<Plan>;
}

/** The desk, and through it the customer, is told again of a broken promise when it is broken by so much more. */
const TOLD_AGAIN_MINUTES = 15;

/** A promise a plan does not keep. */
export interface BrokenPromise {
  readonly jobId: JobId;
  readonly lateMinutes: number;
}

/**
 * Makes a plan the current one, all or nothing; broken promises and cars told to stand on one another become exceptions
 * for the desk. @throws StalePlan when another plan came first; DoubleBooking
 */
export async function publish(store: Store, input: Publishing, now: Instant): Promise<Plan> {
  const { shopId, expectedVersion, exceptions } = input;
  const plan: Plan = { ...input.plan, version: expectedVersion + 1 };
  const jobs = new Map(input.jobs.map((job) => [job.id, job]));
  const { occupancy, clashes } = occupancyOf(plan.stays, now);
  const name = (jobId: JobId) => nameOf(jobs, jobId);
  const toRaise: ToRaise[] = [
    ...exceptions,
    ...clashes.map(({ stay, with: other }) => ({
      kind: 'factAgainstRule' as const,
      jobId: stay.jobId,
      cause: `${stay.placeId} ${other.jobId} ${stay.from}`,
      text: `${name(stay.jobId)} and ${name(other.jobId)} are told to stand in one place.`,
    })),
  ];
  return store.transaction(shopId, async (records) => {
    await input.alsoWrite?.(records);
    const published = await records.plans.publish({ shopId, expectedVersion, plan, occupancy, now });
    await raiseExceptions(records, shopId, now, toRaise);
    await tellBroken(records, { ...input, plan, wasBroken: input.isFirst === true }, now);
    const { version, madeAt, reason } = plan;
    await tell(records, shopId, now, 'plan.published', String(version), { version, madeAt, reason });
    await input.alsoAnswer?.(records, published);
    return published;
  });
}

/**
 * Tells the desk the promises a plan breaks, once each, and again when one is broken by more than in the plan that stood.
 * `wasBroken`: only those that were broken in that plan too.
 */
export async function tellBroken(
  records: Records,
  input: Pick<Publishing, 'shopId' | 'plan' | 'jobs' | 'standing'> & { readonly wasBroken?: boolean },
  now: Instant,
): Promise<void> {
  const { shopId, plan, standing, wasBroken = false } = input;
  const jobs = new Map(input.jobs.map((job) => [job.id, job]));
  const lateBefore = new Map(standing?.jobs.map((job) => [job.jobId, job.lateMinutes]));
  const broken = brokenPromises(plan)
    .filter(({ jobId }) => !wasBroken || (lateBefore.get(jobId) ?? 0) > 0)
    .map(({ jobId, lateMinutes }) => ({
      kind: 'promiseBroken' as const,
      jobId,
      lateMinutes,
      cause: String(jobs.get(jobId)?.promise?.pickupAt ?? ''),
      text: `${nameOf(jobs, jobId)}: the plan is ${lateMinutes} minutes after the promised pickup. Tell the customer.`,
    }));
  const news = await raiseExceptions(records, shopId, now, broken);
  const worse = broken.filter((each) => {
    const before = lateBefore.get(each.jobId);
    return !news.has(each) && before !== undefined && each.lateMinutes >= before + TOLD_AGAIN_MINUTES;
  });
  const again = worse.map((each) => ({ ...each, cause: `${each.cause} ${each.lateMinutes}` }));
  await raiseExceptions(records, shopId, now, again);
}

function nameOf(jobs: ReadonlyMap<JobId, Job>, jobId: JobId): string {
  const job = jobs.get(jobId);
  return job === undefined ? jobId : carName(job);
}

export function brokenPromises(plan: Plan): readonly BrokenPromise[] {
  return plan.jobs.filter((job) => job.lateMinutes > 0).map(({ jobId, lateMinutes }) => ({ jobId, lateMinutes }));
}
