import { NEVER } from '../calendar/never.ts';
import type { Blocked } from './blocked.ts';
import type { Book } from './book.ts';
import type { CostLimit } from './cost-limit.ts';
import { EarliestFit } from './earliest-fit.ts';
import { JobFollower } from './follow-job.ts';
import type { InsertOptions } from './insert-options.ts';
import { dropOff, pickup } from './job-cost.ts';
import type { JobModel } from './job-model.ts';
import type { JobPlan } from './job-plan.ts';
import { CarParker } from './park-cars.ts';
import { PlanJudge } from './plan-judge.ts';

/** Finds a plan for one job in what the book has left, moving nobody else: over its branches, overtime and later drop-offs. */
export class JobInserter {
  readonly #book: Book;
  readonly #fit: EarliestFit;
  readonly #judge: PlanJudge;
  readonly #follower: JobFollower;
  readonly #parker: CarParker;
  readonly #overtime: boolean;
  /** After a failure, what stood in the way last. */
  blocked: Blocked | null = null;

  constructor(book: Book) {
    this.#book = book;
    this.#fit = new EarliestFit(book);
    this.#judge = new PlanJudge(book.shop);
    this.#follower = new JobFollower(book, this.#fit, this.#judge);
    this.#parker = new CarParker(book, this.#fit);
    this.#overtime = book.shop.resources.some((resource) => resource.overtime !== null);
  }

  /** Units of search work done so far. */
  get work(): number {
    return this.#fit.work;
  }

  /** The best plan found for job `j`, which must not be in the book; null when there is none before the horizon. */
  insert(j: number, options: InsertOptions): JobPlan | null {
    const job = this.#book.jobs[j]!;
    this.#follower.forgetBlocked();
    this.#fit.noise = options.noise;
    // The job's own car, standing where it is without end, must not be in its own way.
    this.#book.stand(job, -1);
    let plan = this.#inHours(job, options);
    if (plan !== null && options.laterDropOffs && !job.inShop) plan = this.#later(job, plan, options);
    if (plan !== null) this.#parker.park(job, plan);
    this.#book.stand(job, 1);
    this.blocked = this.#follower.blocked;
    return plan;
  }

  /**
   * A plan for a later drop-off that is better than `plan`, which job `j` had in the book and has no more; null when none is found.
   */
  comeLater(j: number, plan: JobPlan, options: InsertOptions): JobPlan | null {
    const job = this.#book.jobs[j]!;
    if (job.fixed) return null;
    this.#follower.forgetBlocked();
    this.#fit.noise = options.noise;
    const later = this.#later(job, plan, options);
    if (later === plan) return null;
    this.#parker.park(job, later);
    return later;
  }

  /** Halves the wait that is left in the plan again and again, keeping the drop-off that costs least. */
  #later(job: JobModel, first: JobPlan, options: InsertOptions): JobPlan {
    let best = first;
    const arrived = dropOff(job, first);
    let delay = (job.ready < 0 ? pickup(job, first) : first.end[job.ready]!) - arrived - job.leastMinutes;
    // All of the wait is hardly ever to be saved where the pickup stays.
    if (options.laterPickup === 'none') delay >>= 1;
    for (let halvings = options.halvings; halvings > 0 && delay > 0; halvings--) {
      const plan = this.#inHours(job, {
        ...options,
        notBefore: arrived + delay,
        limit: this.#better(job, best, options),
      });
      if (plan !== null && this.#judge.isBetter(job, plan, best)) best = plan;
      delay >>= 1;
    }
    return best;
  }

  /** Keeps to the pickup's cost in `plan` and stays shorter. */
  #better(job: JobModel, plan: JobPlan, options: InsertOptions): CostLimit {
    if (job.ready < 0) return options.limit;
    const at = pickup(job, plan);
    const told = Math.min(job.promiseAt, job.dueAt);
    const putOff = options.laterPickup === 'any' || (options.laterPickup === 'told' && told < NEVER);
    const latest = putOff ? Math.max(at, told) : at;
    return {
      latestPickup: Math.min(options.limit.latestPickup, latest),
      mostLead: plan.end[job.ready]! - dropOff(job, plan) - 1,
    };
  }

  /** Without overtime when that keeps the promise, with it when that is better. */
  #inHours(job: JobModel, options: InsertOptions): JobPlan | null {
    this.#fit.overtimeAllowed = !this.#overtime;
    const regular = this.#bestBranches(job, options);
    if (!this.#overtime) return regular;
    if (regular !== null && pickup(job, regular) <= Math.min(job.promiseAt, job.dueAt)) return regular;
    this.#fit.overtimeAllowed = true;
    const extended = this.#bestBranches(job, options);
    return extended === null || (regular !== null && !this.#judge.isBetter(job, extended, regular))
      ? regular
      : extended;
  }

  #bestBranches(job: JobModel, options: InsertOptions): JobPlan | null {
    const { combinations } = job;
    if (options.combination !== null) {
      return this.#follower.find(job, combinations[options.combination(combinations.length)]!, options);
    }
    let best: JobPlan | null = null;
    for (const present of combinations) {
      const plan = this.#follower.find(job, present, options);
      if (plan !== null && (best === null || this.#judge.isBetter(job, plan, best))) best = plan;
    }
    return best;
  }
}
