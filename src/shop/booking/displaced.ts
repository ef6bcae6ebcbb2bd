import type { JobId } from '../../trade/model/ids.ts';
import type { Job } from '../../trade/model/job.ts';
import type { Plan, PlannedJob, PlannedOperation } from '../../trade/model/plan.ts';
import { carName } from '../jobs/job-view.ts';

/** A car that gives way to another; its customer was told nothing that changes. */
export interface Displaced {
  readonly jobId: JobId;
  /** As people on the floor call it. */
  readonly car: string;
  /** By how many minutes its work begins later, and is ready later; negative: sooner. */
  readonly startMinutes: number;
  readonly readyMinutes: number;
  /** Operations that are done at another time, elsewhere or by others. */
  readonly operations: number;
}

interface InPlan {
  readonly planned: PlannedJob;
  readonly operations: readonly PlannedOperation[];
}

const MINUTE = 60_000;

/** What giving way means for one car; null when none of its work has moved. */
export function displacement(job: Job, before: InPlan, after: InPlan): Displaced | null {
  const moved = operationsMoved(before, after);
  if (moved === 0) return null;
  const begins = ({ operations, planned }: InPlan) => operations[0]?.start ?? planned.dropOffAt;
  return {
    jobId: job.id,
    car: carName(job),
    startMinutes: (begins(after) - begins(before)) / MINUTE,
    readyMinutes: (after.planned.readyAt - before.planned.readyAt) / MINUTE,
    operations: moved,
  };
}

/** The cars of a plan that one more car displaces in another. */
export function displacedBetween(before: Plan | null, after: Plan, jobs: readonly Job[]): Displaced[] {
  if (before === null) return [];
  const [was, is] = [inPlanByJob(before), inPlanByJob(after)];
  return jobs.flatMap((job) => {
    const [then, now] = [was.get(job.id), is.get(job.id)];
    const one = then === undefined || now === undefined ? null : displacement(job, then, now);
    return one === null ? [] : [one];
  });
}

function inPlanByJob(plan: Plan): Map<JobId, InPlan> {
  const operations = new Map<JobId, PlannedOperation[]>(plan.jobs.map(({ jobId }) => [jobId, []]));
  for (const each of plan.operations) operations.get(each.jobId)?.push(each);
  return new Map(plan.jobs.map((planned) => [planned.jobId, { planned, operations: operations.get(planned.jobId)! }]));
}

function operationsMoved(before: InPlan, after: InPlan): number {
  const was = new Map(before.operations.map((each) => [each.operation, each]));
  const same = after.operations.filter((is) => {
    const one = was.get(is.operation);
    if (one === undefined || one.start !== is.start || one.end !== is.end) return false;
    return one.placeId === is.placeId && one.people.join() === is.people.join();
  });
  return Math.max(was.size, after.operations.length) - same.length;
}
