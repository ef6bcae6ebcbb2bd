import { z } from 'zod';
import { JobId, OperationKey } from './ids.ts';
import { PlannedJob, PlannedOperation, PlannedStay } from './plan.ts';

/** What makes one plan's work into another's; whole pieces, so that it can be written down and read back. */
export const PlanChange = z.object({
  /** New work, and work that is planned differently. */
  operations: z.array(PlannedOperation),
  operationsGone: z.array(z.object({ jobId: JobId, operation: OperationKey })),
  /** All stays of each job that has other ones, in their order; a job that has none any more has an empty list. */
  stays: z.array(z.object({ jobId: JobId, stays: z.array(PlannedStay) })),
  jobs: z.array(PlannedJob),
  jobsGone: z.array(JobId),
});
export type PlanChange = z.infer<typeof PlanChange>;
