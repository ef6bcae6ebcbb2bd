import type { Records, Store } from '../../store/store.ts';
import type { JobId, ShopId } from '../../trade/model/ids.ts';
import type { Job } from '../../trade/model/job.ts';
import type { Plan } from '../../trade/model/plan.ts';
import type { Instant } from '../../trade/model/time.ts';
import { carName } from '../jobs/job-view.ts';
import { raiseException, type ToRaise } from '../records/raise-exception.ts';
import { tell } from '../records/tell.ts';
import { occupancyOf } from './occupancy.ts';

export interface Publishing {
  readonly shopId: ShopId;
  /** Checked by the independent checker; its version is set here. */
  readonly plan: Plan;
  /** Version of the plan it was made from. */
  readonly expectedVersion: number;
  readonly jobs: readonly Job[];
  readonly exceptions: readonly ToRaise[];
  /** Written in the same transaction, before the plan: a new job, a changed one. */
  readonly alsoWrite?: (records: Records) => Promise<void>;
}

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
  const name = (jobId: JobId) => {
    const job = jobs.get(jobId);
    return job === undefined ? jobId : carName(job);
  };
  const toRaise: ToRaise[] = [
    ...exceptions,
    ...brokenPromises(plan).map(({ jobId, lateMinutes }) => ({
      kind: 'promiseBroken' as const,
      jobId,
      cause: String(jobs.get(jobId)?.promise?.pickupAt ?? ''),
      text: `${name(jobId)}: the plan is ${lateMinutes} minutes after the promised pickup. Tell the customer.`,
    })),
    ...clashes.map(({ stay, with: other }) => ({
      kind: 'factAgainstRule' as const,
      jobId: stay.jobId,
      cause: `${stay.placeId} ${other.jobId} ${stay.from}`,
      text: `${name(stay.jobId)} and ${name(other.jobId)} are told to stand in one place.`,
    })),
  ];
  await store.transaction(shopId, async (records) => {
    await input.alsoWrite?.(records);
    await records.plans.publish({ shopId, expectedVersion, plan, occupancy, now });
    for (const each of toRaise) await raiseException(records, shopId, now, each);
    const { version, madeAt, reason } = plan;
    await tell(records, shopId, now, 'plan.published', String(version), { version, madeAt, reason });
  });
  return plan;
}

export function brokenPromises(plan: Plan): readonly BrokenPromise[] {
  return plan.jobs.filter((job) => job.lateMinutes > 0).map(({ jobId, lateMinutes }) => ({ jobId, lateMinutes }));
}
