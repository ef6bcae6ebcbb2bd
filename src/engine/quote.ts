import type { Blocked } from './construct/blocked.ts';
import { Book } from './construct/book.ts';
import { compileJobs } from './construct/compile-job.ts';
import { enterUnchecked } from './construct/enter-schedule.ts';
import { type GiveWayOptions, giveWay } from './construct/give-way.ts';
import { JobInserter } from './construct/insert-job.ts';
import { type InsertOptions, THOROUGH } from './construct/insert-options.ts';
import { dropOff, pickup } from './construct/job-cost.ts';
import type { JobModel } from './construct/job-model.ts';
import { type Extent, extentOf } from './construct/job-parts.ts';
import type { JobPlan } from './construct/job-plan.ts';
import { scheduleOf, writeJob } from './construct/schedule-of.ts';
import { ShopModel } from './construct/shop-model.ts';
import type { Problem } from './problem/problem.ts';
import type { Objective, PlannedOperation, PlannedStay, Schedule } from './problem/solution.ts';

/** Some three weeks of a full book, day by day. */
const RESTARTS = 32;
/** 99 of 100 searches that found a way had begun anew no more often; a second way is worth no more than that. */
const RESTARTS_FOR_ANOTHER = 12;
/** In weeks without room for a job it is tried day by day. */
const LEAP_MINUTES = 1440;

export interface QuoteOptions {
  /** How many different drop-offs to offer, each in a later opening than the one before. One, if absent. */
  readonly alternatives?: number;
  /** Earliest drop-off wanted; the job's release, if absent or earlier. */
  readonly notBefore?: number;
  /** Only these places for the first stay. */
  readonly firstPlaces?: readonly number[];
  /** Whether, for each alternative, a later drop-off that shortens the stay is preferred when it keeps the promise, or without one the pickup. */
  readonly shortStay?: boolean;
}

/** One way to take the job in without moving anybody. */
export interface Placement {
  readonly dropOff: number;
  /** Start of the handover, or else the end of the work that makes the car ready. */
  readonly pickup: number;
  readonly place: number;
  /** The whole plan, the new job in it, for the problem it was asked with. */
  readonly schedule: Schedule;
  readonly objective: Objective;
}

export interface MovingOptions extends Omit<GiveWayOptions, 'accepts'> {
  /** Whether those who moved may move so. */
  readonly accepts: (placement: Placement, moved: readonly number[]) => boolean;
}

/** A plan held ready in memory for questions about one more job. */
export interface OpenBook {
  /** What stood last in the way of the job that a question found no place for. */
  readonly blocked: Blocked | null;
  /**
   * Where one more job would go, without moving the others; empty when nowhere before the horizon. `extended` is the
   * book's problem with the job appended: every array begins as in the book's problem, the shop is unchanged, and progresses
   * may have been appended too.
   */
  quote(extended: Problem, options?: QuoteOptions): Placement[];
  /** Where it would go if some others gave way, and who; null when nobody's giving way brings it in time. */
  quoteMoving(extended: Problem, options: MovingOptions): { placement: Placement; moved: readonly number[] } | null;
  /** Takes a placement into the book: from here on `extended` is the book's problem. */
  accept(extended: Problem, placement: Pick<Placement, 'schedule'>): void;
}

/** Opens a plan that obeys every rule. Jobs that it does not plan take up nothing. */
export function openBook(problem: Problem, schedule: Schedule): OpenBook {
  const shop = new ShopModel(problem);
  const book = new Book(shop, compileJobs(shop, problem));
  enterUnchecked(book, schedule);
  const inserter = new JobInserter(book);
  const before = scheduleOf(book);
  let extent: Extent = extentOf(problem);
  let operations: readonly (PlannedOperation | null)[] = before.operations;
  let stays: readonly (PlannedStay | null)[] = before.stays;

  function adopt(extended: Problem): { job: JobModel; j: number } {
    if (extended.jobs.length !== extent.jobs + 1) {
      throw new RangeError(
        `jobs: ${extent.jobs + 1} expected, the book's and one more, but ${extended.jobs.length} given`,
      );
    }
    shop.adoptProgresses(extended);
    const job = compileJobs(shop, extended, extent)[0]!;
    book.adopt(job);
    return { job, j: book.jobs.length - 1 };
  }

  function placementOf(extended: Problem, job: JobModel, j: number, plan: JobPlan): Placement {
    book.enter(j, plan);
    const placement = enteredPlacement(extended, job, j, plan, []);
    book.withdraw(j);
    return placement;
  }

  /** The placement of a job that is entered, with the others where the book has them. */
  function enteredPlacement(
    extended: Problem,
    job: JobModel,
    j: number,
    plan: JobPlan,
    moved: readonly number[],
  ): Placement {
    const objective = new Float64Array(problem.tiers.length);
    book.objective(objective);
    const itsOperations = new Array<PlannedOperation | null>(extended.operations.length - operations.length).fill(null);
    const itsStays = new Array<PlannedStay | null>(extended.stays.length - stays.length).fill(null);
    const schedule = { operations: operations.concat(itsOperations), stays: stays.concat(itsStays) };
    for (const each of [...moved, j]) writeJob(book, each, schedule.operations, schedule.stays);
    const first = plan.place.findIndex((place) => place >= 0);
    return {
      dropOff: dropOff(job, plan),
      pickup: pickup(job, plan),
      place: first < 0 ? -1 : plan.place[first]!,
      schedule,
      objective: [...objective],
    };
  }

  return {
    get blocked() {
      return inserter.blocked;
    },

    quote(extended, options = {}) {
      const { job, j } = adopt(extended);
      const placements: Placement[] = [];
      let notBefore = options.notBefore ?? 0;
      try {
        while (placements.length < (options.alternatives ?? 1)) {
          const restarts = placements.length > 0 ? RESTARTS_FOR_ANOTHER : RESTARTS;
          const wanted: InsertOptions = {
            ...THOROUGH,
            restarts,
            leap: LEAP_MINUTES,
            notBefore,
            firstPlaces: options.firstPlaces ?? null,
            laterDropOffs: options.shortStay ?? false,
            laterPickup: 'told',
          };
          const plan = inserter.insert(j, wanted);
          if (plan === null) break;
          const placement = placementOf(extended, job, j, plan);
          placements.push(placement);
          const next = job.dropOffOpen?.nextFrom(placement.dropOff) ?? placement.dropOff + 1;
          if (next >= shop.horizon) break;
          notBefore = next;
        }
      } finally {
        book.release();
      }
      return placements;
    },

    quoteMoving(extended, options) {
      const { job, j } = adopt(extended);
      const before = book.plans.slice();
      try {
        let placement: Placement | null = null;
        const moved = giveWay(book, inserter, j, {
          ...options,
          accepts: (some) => {
            placement = enteredPlacement(extended, job, j, book.plans[j]!, some);
            return options.accepts(placement, some);
          },
        });
        book.restore(before);
        return moved === null || placement === null ? null : { placement, moved };
      } finally {
        book.release();
      }
    },

    accept(extended, placement) {
      const { j } = adopt(extended);
      enterUnchecked(book, placement.schedule);
      if (book.plans[j] === null) throw new RangeError('schedule: the placement does not plan the job');
      operations = placement.schedule.operations;
      stays = placement.schedule.stays;
      extent = extentOf(extended);
    },
  };
}
