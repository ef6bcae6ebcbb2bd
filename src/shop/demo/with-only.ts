import type { Job } from '../../trade/model/job.ts';
import type { Plan } from '../../trade/model/plan.ts';

/** A plan without what it says of other jobs. */
export function withOnly(plan: Plan, jobs: readonly Job[]): Plan {
  const those = new Set(jobs.map((job) => job.id));
  return {
    ...plan,
    operations: plan.operations.filter((each) => those.has(each.jobId)),
    stays: plan.stays.filter((each) => those.has(each.jobId)),
    jobs: plan.jobs.filter((each) => those.has(each.jobId)),
  };
}
