import { StalePlan } from '../../store/store.ts';
import type { JobId, ShopId } from '../../trade/model/ids.ts';
import type { Job } from '../../trade/model/job.ts';
import type { Plan } from '../../trade/model/plan.ts';
import type { PlanningDeps } from '../deps.ts';
import { Busy } from '../problems/problems.ts';
import { inShopTerms } from '../problems/store-refusals.ts';
import { tell } from '../records/tell.ts';
import { publish } from './publish.ts';

/** Times a publication is tried again when others keep publishing. */
const MOST_TRIES = 8;

export interface Withdrawal {
  readonly shopId: ShopId;
  readonly reason: string;
  /** The jobs as they are closed, with the version each was read at. */
  readonly closed: readonly { readonly job: Job; readonly expectedVersion: number }[];
}

/**
 * Closes jobs and takes them out of the plan in one transaction, so that their slots are free at once. Nobody else's
 * work moves: a plan without some of its cars obeys every rule that it obeyed with them.
 * @throws Stale, Busy
 */
export async function withdrawJobs(deps: Pick<PlanningDeps, 'store' | 'clock'>, input: Withdrawal): Promise<void> {
  const { shopId, reason, closed } = input;
  for (let tries = 0; tries < MOST_TRIES; tries++) {
    const now = deps.clock();
    const standing = await deps.store.plans.current(shopId);
    const putJobs: Parameters<typeof publish>[1]['alsoWrite'] = async (records) => {
      for (const { job, expectedVersion } of closed) {
        await records.jobs.put(shopId, job, expectedVersion);
        await tell(records, shopId, now, 'job.changed', job.id, { state: job.state });
      }
    };
    try {
      await inShopTerms(async () => {
        if (standing === null) return deps.store.transaction(shopId, putJobs);
        const gone = new Set(closed.map(({ job }) => job.id));
        const jobs = (await deps.store.jobs.listOpen(shopId)).map((each) => each.value);
        const plan = { ...withoutJobs(standing, gone), madeAt: now, reason };
        const expectedVersion = standing.version;
        await publish(deps.store, { shopId, plan, expectedVersion, jobs, exceptions: [], alsoWrite: putJobs }, now);
      });
      return;
    } catch (refusal) {
      if (!(refusal instanceof StalePlan)) throw refusal;
    }
  }
  throw new Busy('The plan keeps changing; try again.');
}

function withoutJobs(plan: Plan, gone: ReadonlySet<JobId>): Plan {
  return {
    ...plan,
    operations: plan.operations.filter((each) => !gone.has(each.jobId)),
    stays: plan.stays.filter((each) => !gone.has(each.jobId)),
    jobs: plan.jobs.filter((each) => !gone.has(each.jobId)),
  };
}
