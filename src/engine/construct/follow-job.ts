import { NEVER } from '../calendar/never.ts';
import type { Blocked } from './blocked.ts';
import type { Book } from './book.ts';
import { pickupMinute } from './drop-off-and-pickup.ts';
import type { EarliestFit } from './earliest-fit.ts';
import { StayFollower } from './follow-stays.ts';
import type { InsertOptions } from './insert-options.ts';
import type { JobModel, LagModel, StageModel } from './job-model.ts';
import type { JobPlan } from './job-plan.ts';
import { keepBest, type Label, LabelPool } from './label.ts';
import { hasLapsed, isRemedied } from './lag-window.ts';
import type { PlanJudge } from './plan-judge.ts';

/** Where so many tries ran into dead ends, more of the same are close by. */
const DEAD_ENDS_BEFORE_LEAPS = 8;

/**
 * Follows a job from drop-off to pickup with one choice of its branches. Labels are set stay by stay: the few ways that
 * free the car first are followed on, and of those that reach the end the one that costs least is taken.
 */
export class JobFollower {
  readonly #book: Book;
  readonly #judge: PlanJudge;
  readonly #pool = new LabelPool();
  readonly #follower: StayFollower;
  /** The earliest minute at which a label that led nowhere had to leave its place. */
  #deadEnd = NEVER;
  #noPickup: Blocked | null = null;

  constructor(book: Book, fit: EarliestFit, judge: PlanJudge) {
    this.#book = book;
    this.#judge = judge;
    this.#follower = new StayFollower(book, fit, this.#pool);
  }

  /** What stood in the way last. */
  get blocked(): Blocked | null {
    return this.#noPickup ?? this.#follower.blocked;
  }

  forgetBlocked(): void {
    this.#noPickup = null;
    this.#follower.blocked = null;
  }

  /** Tries anew after a dead end: later, or with what a maximum lag has taught about an earlier stay, its remedy there included. */
  find(job: JobModel, present: Uint8Array, options: InsertOptions): JobPlan | null {
    const { horizon, now } = this.#book.shop;
    const follower = this.#follower;
    const floor = new Int32Array(job.operations.length);
    const remedied: LagModel[] = [];
    let there = present;
    let notBefore = Math.max(options.notBefore, job.release, now);
    let deadEnds = 0;
    for (let restart = 0; restart <= options.restarts; restart++) {
      this.#deadEnd = NEVER;
      follower.earlierOperation = -1;
      follower.earlierRemedy = null;
      follower.limited = false;
      const plan = this.#fromDropOff(job, there, floor, notBefore, options);
      // A remedy that nothing demands is no plan.
      if (plan !== null) return haveLapsed(remedied, plan) ? plan : null;
      if (follower.limited) return null;
      const lapsed = follower.earlierRemedy as LagModel | null;
      const operation = follower.earlierOperation;
      if (operation >= 0) {
        floor[operation] = Math.max(floor[operation]! + 1, follower.earlierFloor);
        if (floor[operation]! >= horizon) return null;
      } else if (lapsed !== null && !isRemedied(lapsed, there)) {
        remedied.push(lapsed);
        there = there.slice();
        for (const remedy of lapsed.remedy) there[remedy] = 1;
      } else if (this.#deadEnd < horizon && job.stages[0]!.fixedPlace < 0) {
        const leap = ++deadEnds > DEAD_ENDS_BEFORE_LEAPS ? options.leap : 1;
        notBefore = Math.max(notBefore + leap, this.#deadEnd);
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
    for (let k = 0; k < job.stages.length; k++) {
      const stage = job.stages[k]!;
      const next: Label[] = [];
      for (const label of labels) this.#follower.follow(job, label, k, floor, next, options);
      // A move that somebody fixed leads somewhere.
      const moveFixed = stage.move >= 0 && job.operations[stage.move]!.fixing !== 'open';
      const skippable = stage.optional && stage.fixedPlace < 0 && !moveFixed && !hasWork(stage, present);
      if (next.length === 0 && !skippable) {
        for (const label of labels) if (label.stage >= 0) this.#deadEnd = Math.min(this.#deadEnd, label.gapEnd);
        return null;
      }
      labels = skippable ? [...labels, ...keepBest(next, 1)] : keepBest(next, options.width);
    }
    let best: JobPlan | null = null;
    for (const label of labels) {
      if (this.#isPickedUp(job, label) && (best === null || this.#judge.isBetter(job, label.plan, best)))
        best = label.plan;
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
    this.#noPickup = { job: job.index, operation: -1, obstacle: 'place', index: job.stages[label.stage]!.stay };
    return false;
  }
}

function haveLapsed(lags: readonly LagModel[], plan: JobPlan): boolean {
  for (const lag of lags) if (!hasLapsed(lag, plan)) return false;
  return true;
}

function hasWork({ opsFrom, opsTo, move }: StageModel, present: Uint8Array): boolean {
  for (let i = opsFrom; i < opsTo; i++) if (i !== move && present[i] === 1) return true;
  return false;
}
