import type { Branch, Job, Lag, Operation, Problem, Stay } from '../../engine/problem/problem.ts';

/** What is kept of a list, and what its indices become. */
export interface Renumbered {
  /** Old indices that are kept, in order. */
  readonly kept: readonly number[];
  /** New index by old; -1 where it is not kept. */
  readonly newOf: Int32Array;
}

type JobsAndWork = Pick<Problem, 'jobs' | 'operations' | 'stays'>;
type Links = Pick<Problem, 'lags' | 'branches' | 'sameCrew' | 'airSpans' | 'stills'>;
type Ends = { readonly from: { readonly operation: number }; readonly to: { readonly operation: number } };

/** Some jobs being cut out of a problem: everything of theirs, with new indices. */
export class Cut {
  readonly jobs: Renumbered;
  readonly operations: Renumbered;
  readonly stays: Renumbered;
  readonly #problem: Problem;
  readonly #newOperation: Int32Array;

  /** @param keeps by job, whether it is kept. */
  constructor(problem: Problem, keeps: readonly boolean[]) {
    this.#problem = problem;
    this.jobs = jobsKept(keeps);
    this.operations = renumbered(problem.operations, keeps);
    this.stays = renumbered(problem.stays, keeps);
    this.#newOperation = this.operations.newOf;
  }

  jobsAndWork(): JobsAndWork {
    const { jobs, operations, stays } = this.#problem;
    const part = { jobs: [] as Job[], operations: [] as Operation[], stays: [] as Stay[] };
    for (const j of this.jobs.kept) part.jobs.push(this.#job(jobs[j]!));
    for (const o of this.operations.kept) part.operations.push(this.#operation(operations[o]!));
    for (const s of this.stays.kept) part.stays.push(this.#stay(stays[s]!));
    return part;
  }

  links(): Links {
    const { lags, branches, sameCrew, airSpans, stills } = this.#problem;
    const stayOf = this.stays.newOf;
    const jobOf = this.jobs.newOf;
    const part = {
      lags: [] as Lag[],
      branches: [] as Branch[],
      sameCrew: [] as Problem['sameCrew'][number][],
      airSpans: [] as Problem['airSpans'][number][],
      stills: [] as Problem['stills'][number][],
    };
    for (const lag of lags) {
      if (!this.#has(lag.from.operation) || !this.#has(lag.to.operation)) continue;
      part.lags.push(lag.remedy ? { ...this.#tied(lag), remedy: this.#all(lag.remedy) } : this.#tied(lag));
    }
    for (const branch of branches) if (this.#hasAll(branch)) part.branches.push(this.#branch(branch));
    for (const link of sameCrew) {
      if (!this.#has(link.first) || !this.#has(link.second)) continue;
      const second = this.#newOperation[link.second]!;
      part.sameCrew.push({ ...link, first: this.#newOperation[link.first]!, second });
    }
    for (const span of airSpans) {
      if (this.#has(span.from.operation)) part.airSpans.push({ ...this.#tied(span), stay: stayOf[span.stay]! });
    }
    for (const still of stills) {
      if (this.#has(still.from.operation)) part.stills.push({ ...this.#tied(still), job: jobOf[still.job]! });
    }
    return part;
  }

  #job(job: Job): Job {
    const o = this.#newOperation;
    const stays: number[] = [];
    for (const stay of job.stays) stays.push(this.stays.newOf[stay]!);
    return {
      ...job,
      stays,
      ...(job.arrival === undefined ? {} : { arrival: o[job.arrival]! }),
      ...(job.handover === undefined ? {} : { handover: o[job.handover]! }),
      ...(job.ready === undefined ? {} : { ready: o[job.ready]! }),
    };
  }

  #operation(operation: Operation): Operation {
    const job = this.jobs.newOf[operation.job]!;
    if (operation.stay === undefined) return { ...operation, job };
    return { ...operation, job, stay: this.stays.newOf[operation.stay]! };
  }

  #stay(stay: Stay): Stay {
    const job = this.jobs.newOf[stay.job]!;
    return stay.move === undefined ? { ...stay, job } : { ...stay, job, move: this.#newOperation[stay.move]! };
  }

  #branch(branch: Branch): Branch {
    const alternatives: number[][] = [];
    for (const group of branch.alternatives) alternatives.push(this.#all(group));
    return { ...branch, alternatives };
  }

  #tied<T extends Ends>(link: T): T {
    return {
      ...link,
      from: { ...link.from, operation: this.#newOperation[link.from.operation]! },
      to: { ...link.to, operation: this.#newOperation[link.to.operation]! },
    };
  }

  #has(operation: number): boolean {
    return this.#newOperation[operation]! >= 0;
  }

  #hasAll({ alternatives }: Branch): boolean {
    for (const group of alternatives) for (const o of group) if (!this.#has(o)) return false;
    return true;
  }

  #all(operations: readonly number[]): number[] {
    const part: number[] = [];
    for (const o of operations) part.push(this.#newOperation[o]!);
    return part;
  }
}

function jobsKept(keeps: readonly boolean[]): Renumbered {
  const kept: number[] = [];
  const newOf = new Int32Array(keeps.length).fill(-1);
  for (let j = 0; j < keeps.length; j++) if (keeps[j]) newOf[j] = kept.push(j) - 1;
  return { kept, newOf };
}

function renumbered(ofJobs: readonly { readonly job: number }[], keeps: readonly boolean[]): Renumbered {
  const kept: number[] = [];
  const newOf = new Int32Array(ofJobs.length).fill(-1);
  for (let k = 0; k < ofJobs.length; k++) if (keeps[ofJobs[k]!.job]) newOf[k] = kept.push(k) - 1;
  return { kept, newOf };
}
