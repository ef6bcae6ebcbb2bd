import type { JobModel } from './job-model.ts';

/** Where and when one job's operations and stays lie, in the job's own indices. */
export class JobPlan {
  readonly start: Int32Array;
  readonly end: Int32Array;
  /** -1 when the operation is absent, or not yet placed. */
  readonly mode: Int32Array;
  /** -1 when the stay is absent, or not yet placed. */
  readonly place: Int32Array;
  readonly from: Int32Array;
  readonly to: Int32Array;

  constructor(operations: number, stages: number) {
    this.start = new Int32Array(operations);
    this.end = new Int32Array(operations);
    this.mode = new Int32Array(operations).fill(-1);
    this.place = new Int32Array(stages).fill(-1);
    this.from = new Int32Array(stages);
    this.to = new Int32Array(stages);
  }

  static of(job: JobModel): JobPlan {
    return new JobPlan(job.operations.length, job.stages.length);
  }

  /** A copy that is just large enough for its job. */
  fitted(job: JobModel): JobPlan {
    const plan = JobPlan.of(job);
    const operations = job.operations.length;
    const stages = job.stages.length;
    plan.start.set(this.start.subarray(0, operations));
    plan.end.set(this.end.subarray(0, operations));
    plan.mode.set(this.mode.subarray(0, operations));
    plan.place.set(this.place.subarray(0, stages));
    plan.from.set(this.from.subarray(0, stages));
    plan.to.set(this.to.subarray(0, stages));
    return plan;
  }

  /** Both must have been made for the same size. */
  copyFrom(other: JobPlan): void {
    this.start.set(other.start);
    this.end.set(other.end);
    this.mode.set(other.mode);
    this.place.set(other.place);
    this.from.set(other.from);
    this.to.set(other.to);
  }

  /** Forgets everything but what is pinned. */
  reset(job: JobModel): void {
    this.mode.fill(-1);
    this.place.fill(-1);
    for (let i = 0; i < job.operations.length; i++) {
      const operation = job.operations[i]!;
      if (operation.fixing !== 'pinned') continue;
      this.start[i] = operation.fixedStart;
      this.end[i] = operation.fixedEnd;
      this.mode[i] = operation.fixedMode;
    }
  }

  edge(operation: number, end: boolean): number {
    return end ? this.end[operation]! : this.start[operation]!;
  }
}
