import { NEVER } from '../calendar/never.ts';
import type { Blocked } from './blocked.ts';
import type { Book } from './book.ts';
import type { CostLimit } from './cost-limit.ts';
import { pickupMinute } from './drop-off-and-pickup.ts';
import { EarliestFit } from './earliest-fit.ts';
import { StayFollower } from './follow-stays.ts';
import type { InsertOptions } from './insert-options.ts';
import { costJob, dropOff, pickup } from './job-cost.ts';
import type { JobModel } from './job-model.ts';
import type { JobPlan } from './job-plan.ts';
import { keepBest, type Label, LabelPool } from './label.ts';

/** How many later drop-offs are tried. */
const DROP_OFF_HALVINGS = 4;

/**
 * Finds a plan for one job in what the book has left, moving nobody else. Labels are set stay by stay: the few ways that
 * free the car first are followed on, and of those that reach the end the one that costs least is taken.
 */
export class JobInserter {
  readonly #book: Book;
  readonly #fit: EarliestFit;
  readonly #pool = new LabelPool();
  readonly #follower: StayFollower;
  readonly #overtime: boolean;
  readonly #costs: readonly [Float64Array, Float64Array];
  /** After a failure, what stood in the way last. */
  blocked: Blocked | null = null;
  /** The earliest minute at which a label that led nowhere had to leave its place. */
  #deadEnd = NEVER;

  constructor(book: Book) {
    this.#book = book;
    this.#fit = new EarliestFit(book);
    this.#follower = new StayFollower(book, this.#fit, this.#pool);
    this.#overtime = book.shop.resources.some((resource) => resource.overtime !== null);
    const tiers = book.shop.problem.tiers.length;
    this.#costs = [new Float64Array(tiers), new Float64Array(tiers)];
  }

  /** Units of search work done so far. */
  get work(): number {
    return this.#fit.work;
  }

  /** The best plan found for job `j`, which must not be in the book; null when there is none before the horizon. */
  insert(j: number, options: InsertOptions): JobPlan | null {
    const job = this.#book.jobs[j]!;
    this.blocked = null;
    this.#follower.blocked = null;
    this.#fit.noise = options.noise;
    // The job's own car, standing where it is without end, must not be in its own way.
    this.#book.stand(job, -1);
    let plan = this.#inHours(job, options);
    if (plan !== null && options.laterDropOffs && !job.inShop) plan = this.#later(job, plan, options);
    this.#book.stand(job, 1);
    this.blocked ??= this.#follower.blocked;
    return plan;
  }

  /** Halves the wait that is left in the plan again and again, keeping the drop-off that costs least. */
  #later(job: JobModel, first: JobPlan, options: InsertOptions): JobPlan {
    let best = first;
    const arrived = dropOff(job, first);
    let delay = (job.ready < 0 ? pickup(job, first) : first.end[job.ready]!) - arrived - job.leastMinutes;
    for (let halving = 0; halving < DROP_OFF_HALVINGS && delay > 0; halving++) {
      const plan = this.#inHours(job, {
        ...options,
        notBefore: arrived + delay,
        limit: this.#better(job, best, options),
      });
      if (plan !== null && this.#isBetter(job, plan, best)) best = plan;
      delay >>= 1;
    }
    return best;
  }

  /** Keeps to the pickup's cost in `plan` and stays shorter. */
  #better(job: JobModel, plan: JobPlan, options: InsertOptions): CostLimit {
    if (job.ready < 0) return options.limit;
    const at = pickup(job, plan);
    const latest = at <= job.promiseAt && at <= job.dueAt ? Math.min(job.promiseAt, job.dueAt) : at;
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
    return extended === null || (regular !== null && !this.#isBetter(job, extended, regular)) ? regular : extended;
  }

  #bestBranches(job: JobModel, options: InsertOptions): JobPlan | null {
    const { combinations } = job;
    if (options.combination !== null) {
      return this.#withRestarts(job, combinations[options.combination(combinations.length)]!, options);
    }
    let best: JobPlan | null = null;
    for (const present of combinations) {
      const plan = this.#withRestarts(job, present, options);
      if (plan !== null && (best === null || this.#isBetter(job, plan, best))) best = plan;
    }
    return best;
  }

  /** Tries anew after a dead end: later, or with what a maximum lag has taught about an earlier stay. */
  #withRestarts(job: JobModel, present: Uint8Array, options: InsertOptions): JobPlan | null {
    const { horizon, now } = this.#book.shop;
    const follower = this.#follower;
    const floor = new Int32Array(job.operations.length);
    let notBefore = Math.max(options.notBefore, job.release, now);
    for (let restart = 0; restart <= options.restarts; restart++) {
      this.#deadEnd = NEVER;
      follower.earlierOperation = -1;
      follower.limited = false;
      const plan = this.#fromDropOff(job, present, floor, notBefore, options);
      if (plan !== null) return plan;
      if (follower.limited) return null;
      const operation = follower.earlierOperation;
      if (operation >= 0) {
        floor[operation] = Math.max(floor[operation]! + 1, follower.earlierFloor);
        if (floor[operation]! >= horizon) return null;
      } else if (this.#deadEnd < horizon && job.stages[0]!.fixedPlace < 0) {
        notBefore = Math.max(notBefore + 1, this.#deadEnd);
      } else return null;
    }
    return null;
  }

  #fromDropOff(
    job: JobModel,
    present: Uint8Array,
    floor: Int32Array,
    notBefore: number,
    options: InsertOptions,
  ): JobPlan | null {
    this.#pool.reset(job);
    const root = this.#pool.take();
    root.plan.reset(job);
    root.gapEnd = NEVER;
    root.stage = -1;
    root.present.set(present);
    root.time = notBefore;
    let labels = [root];
    for (const [k, stage] of job.stages.entries()) {
      const next: Label[] = [];
      for (const label of labels) this.#follower.follow(job, label, k, floor, next, options);
      const skippable = stage.optional && stage.fixedPlace < 0;
      if (next.length === 0 && !skippable) {
        for (const label of labels) if (label.stage >= 0) this.#deadEnd = Math.min(this.#deadEnd, label.gapEnd);
        return null;
      }
      labels = skippable ? [...labels, ...keepBest(next, 1)] : keepBest(next, options.width);
    }
    let best: JobPlan | null = null;
    for (const label of labels) {
      if (this.#isPickedUp(job, label) && (best === null || this.#isBetter(job, label.plan, best))) best = label.plan;
    }
    return best === null ? null : best.fitted(job);
  }

  /** Sets the pickup; false when the car cannot leave while its last place is free. */
  #isPickedUp(job: JobModel, label: Label): boolean {
    const { plan } = label;
    if (label.stage < 0) return true;
    const handed = job.handover >= 0 && plan.mode[job.handover]! >= 0;
    const at = handed
      ? Math.max(label.time, plan.end[job.handover]!)
      : pickupMinute(this.#book, job, plan, label.place, label.time);
    plan.to[label.stage] = at;
    if (at <= label.gapEnd && at <= this.#book.shop.horizon) return true;
    this.#deadEnd = Math.min(this.#deadEnd, label.gapEnd);
    this.blocked = { job: job.index, operation: -1, obstacle: 'place', index: job.stages[label.stage]!.stay };
    return false;
  }

  /** Less in the first tier that differs; then the earlier leaving. */
  #isBetter(job: JobModel, plan: JobPlan, than: JobPlan): boolean {
    const [cost, thanCost] = this.#costs;
    costJob(this.#book.shop, job, plan, cost);
    costJob(this.#book.shop, job, than, thanCost);
    for (let k = 0; k < cost.length; k++) if (cost[k] !== thanCost[k]) return cost[k]! < thanCost[k]!;
    return pickup(job, plan) < pickup(job, than);
  }
}
