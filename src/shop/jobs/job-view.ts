import type { Job } from '../../trade/model/job.ts';
import type { Plan, PlannedJob, PlannedOperation, PlannedStay } from '../../trade/model/plan.ts';

/** A job and what the current plan says of it. */
export interface JobView {
  readonly job: Job;
  /** Null when the job is closed or no plan was made yet. */
  readonly planned: PlannedJob | null;
  readonly operations: readonly PlannedOperation[];
  readonly stays: readonly PlannedStay[];
  readonly planVersion: number;
}

/** Puts a job beside its part of a plan. */
export function jobView(job: Job, plan: Plan | null): JobView {
  return {
    job,
    planned: plan?.jobs.find((each) => each.jobId === job.id) ?? null,
    operations: plan?.operations.filter((each) => each.jobId === job.id) ?? [],
    stays: plan?.stays.filter((each) => each.jobId === job.id) ?? [],
    planVersion: plan?.version ?? 0,
  };
}

/** The car as people on the floor call it. */
export function carName(job: Pick<Job, 'vehicle'>): string {
  const { registration } = job.vehicle;
  return registration === '' ? carLook(job) : `${carLook(job)} ${registration}`;
}

/** What the car looks like, without its registration. */
export function carLook({ vehicle }: Pick<Job, 'vehicle'>): string {
  const { description, colour } = vehicle;
  return description === '' ? `${colour} ${vehicle.class}`.trim() : description;
}
