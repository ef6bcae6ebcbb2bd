import type { Job } from '../../trade/model/job.ts';
import type { PlannedJob, PlannedOperation, PlannedStay } from '../../trade/model/plan.ts';

/** A job and what the current plan says of it. */
export interface JobView {
  readonly job: Job;
  /** Null when the job is closed or no plan was made yet. */
  readonly planned: PlannedJob | null;
  readonly operations: readonly PlannedOperation[];
  readonly stays: readonly PlannedStay[];
  readonly planVersion: number;
}
