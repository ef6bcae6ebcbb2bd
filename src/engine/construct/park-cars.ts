import { NEVER } from '../calendar/never.ts';
import { compareTiers } from '../improve/tiers.ts';
import type { Book } from './book.ts';
import { passageUntil } from './drop-off-and-pickup.ts';
import { type EarliestFit, NO_NOISE } from './earliest-fit.ts';
import { costJob } from './job-cost.ts';
import { arrivalFact } from './job-facts.ts';
import type { JobModel } from './job-model.ts';
import type { JobPlan } from './job-plan.ts';
import { CarMover, type Standing } from './move-car.ts';

/** A car that waits at least so long between two bays is worth two moves. */
const WORTH_TWO_MOVES_MINUTES = 60;
/** A move is looked for so many minutes before the work it leads to, and then twice as many, and so on. */
const SOONER_MINUTES = 15;

/**
 * Lets the car of one job, whose plan is found and not yet in the book, wait where a minute costs less: in a place that keeps
 * nobody out rather than in a bay, and there until the bay has something to do for it. Work stays when and with whom it is; only waiting
 * changes its place, and moves their minute. What does not make the job's plan better, by all tiers, is left.
 */
export class CarParker {
  readonly #book: Book;
  readonly #fit: EarliestFit;
  readonly #mover: CarMover;
  readonly #costs: readonly number[];
  readonly #matters: boolean;
  readonly #cost: Float64Array;
  readonly #than: Float64Array;
  readonly #sorted = new Map<readonly number[], readonly number[]>();
  #present = new Uint8Array(64);

  constructor(book: Book, fit: EarliestFit) {
    this.#book = book;
    this.#fit = fit;
    this.#mover = new CarMover(book, fit);
    const { problem, places } = book.shop;
    this.#costs = places.map(({ standingCost }) => standingCost);
    this.#matters = problem.tiers.includes('standing') && this.#costs.some((cost) => cost > 0);
    this.#cost = new Float64Array(problem.tiers.length);
    this.#than = new Float64Array(problem.tiers.length);
  }

  /** Changes `plan`, the best way found for `job`, which must not be in the book. */
  park(job: JobModel, plan: JobPlan): void {
    if (!this.#matters) return;
    const { noise, overtimeAllowed } = this.#fit;
    this.#fit.noise = NO_NOISE;
    costJob(this.#book.shop, job, plan, this.#than);
    for (let k = 0; k < job.stages.length; k++) this.#standElsewhere(job, plan, k);
    for (let k = 1; k < job.stages.length; k++) this.#leaveSooner(job, plan, k);
    for (let k = 1; k < job.stages.length; k++) this.#standBy(job, plan, k);
    for (let k = 1; k < job.stages.length; k++) this.#comeLater(job, plan, k);
    this.#fit.noise = noise;
    this.#fit.overtimeAllowed = overtimeAllowed;
  }

  /** Holds a stay in the cheapest place that is free for all of it. */
  #standElsewhere(job: JobModel, plan: JobPlan, k: number): void {
    const stage = job.stages[k]!;
    const here = plan.place[k]!;
    if (here < 0 || this.#costs[here] === 0 || stage.fixedPlace >= 0 || arrivalFact(job, k) >= 0) return;
    const before = stageBefore(plan, k);
    const after = stageAfter(plan, k);
    if (isPlaceOfEither(plan, before, after, here) || this.#fillsAir(job, plan, k)) return;
    for (const place of this.#cheapestFirst(stage.places)) {
      if (this.#costs[place]! >= this.#costs[here]!) return;
      if (isPlaceOfEither(plan, before, after, place) || !canBeDoneAt(job, plan, k, place)) continue;
      plan.place[k] = place;
      if (this.#isFree(job, plan, k, before, after) && this.#isBetter(job, plan)) return;
      plan.place[k] = here;
    }
  }

  /** Whether the place of stage `k` is free for its stay, with nobody in the way in or out. */
  #isFree(job: JobModel, plan: JobPlan, k: number, before: number, after: number): boolean {
    const { levels, shop } = this.#book;
    const place = plan.place[k]!;
    const { busy, blockedBy } = shop.places[place]!;
    const start = before < 0 ? plan.from[k]! : plan.start[job.stages[k]!.move]!;
    if (levels.lastAbove(busy, start, plan.to[k]!, 0) >= 0) return false;
    if (blockedBy.length === 0) return true;
    const comes = before < 0 ? start + 1 : plan.end[job.stages[k]!.move]!;
    const move = after < 0 ? -1 : job.stages[after]!.move;
    return (
      this.#isClear(place, start, comes) &&
      (after < 0
        ? passageUntil(this.#book, place, plan.to[k]!) < 0
        : this.#isClear(place, plan.start[move]!, plan.end[move]!))
    );
  }

  /** Sorted once for each list of places, which many stays share. */
  #cheapestFirst(places: readonly number[]): readonly number[] {
    let sorted = this.#sorted.get(places);
    if (sorted === undefined) {
      sorted = [...places].sort((a, b) => this.#costs[a]! - this.#costs[b]!);
      this.#sorted.set(places, sorted);
    }
    return sorted;
  }

  #isClear(place: number, from: number, to: number): boolean {
    const { levels, shop } = this.#book;
    for (const blocker of shop.places[place]!.blockedBy) {
      if (levels.lastAbove(shop.places[blocker]!.cars, from, to, 0) >= 0) return false;
    }
    return true;
  }

  /** Goes on to a cheaper place as soon as the dear one is done with, whichever has room sooner than the one it has now. */
  #leaveSooner(job: JobModel, plan: JobPlan, k: number): void {
    const before = stageBefore(plan, k);
    const { move, places } = job.stages[k]!;
    const here = plan.place[k]!;
    if (before < 0 || here < 0 || move < 0 || plan.mode[move]! < 0) return;
    const after = stageAfter(plan, k);
    const done = workEnds(job, plan, before);
    if (done >= plan.start[move]! || this.#fillsAir(job, plan, k)) return;
    for (const place of this.#cheapestFirst(places)) {
      if (this.#costs[place]! >= this.#costs[plan.place[before]!]!) return;
      if (isPlaceOfEither(plan, before, after, place) || !canBeDoneAt(job, plan, k, place)) continue;
      plan.place[k] = place;
      if (this.#moveAt(job, plan, k, before, done, plan.from[k]! - 1, after)) return;
      plan.place[k] = here;
    }
  }

  /** Waits between two bays in a place for it that the plan has passed by. */
  #standBy(job: JobModel, plan: JobPlan, k: number): void {
    const stage = job.stages[k]!;
    const { move } = stage;
    const before = stageBefore(plan, k);
    const after = stageAfter(plan, k);
    if (plan.place[k]! >= 0 || !stage.optional || stage.fixedPlace >= 0 || move < 0 || before < 0 || after < 0) return;
    const next = job.stages[after]!.move;
    const neighbours = [plan.place[before]!, plan.place[after]!];
    if (next < 0 || plan.mode[next]! < 0 || plan.mode[move]! >= 0 || neighbours[0] === neighbours[1]) return;
    const done = workEnds(job, plan, before);
    if (plan.start[next]! - done < WORTH_TWO_MOVES_MINUTES) return;
    const leaves = plan.to[before]!;
    plan.from[k] = leaves;
    plan.to[k] = leaves;
    for (const place of this.#cheapestFirst(stage.places)) {
      if (this.#costs[place]! >= this.#costs[plan.place[before]!]!) break;
      if (isPlaceOfEither(plan, before, after, place)) continue;
      plan.place[k] = place;
      if (this.#moveAt(job, plan, k, before, done, plan.start[next]!, after)) return;
    }
    plan.place[k] = -1;
    plan.to[before] = leaves;
  }

  /** Comes to a dear place only when there is work for it there, as long as the car can stand where it is. */
  #comeLater(job: JobModel, plan: JobPlan, k: number): void {
    const before = stageBefore(plan, k);
    const stage = job.stages[k]!;
    const { move } = stage;
    if (before < 0 || move < 0 || plan.place[k]! < 0 || plan.mode[move]! < 0) return;
    if (this.#costs[plan.place[k]!]! <= this.#costs[plan.place[before]!]!) return;
    const begins = workBegins(job, plan, k);
    const lasts = plan.end[move]! - plan.start[move]!;
    if (begins >= NEVER) return;
    for (let sooner = 0; ; sooner = Math.max(SOONER_MINUTES, 2 * sooner)) {
      const from = begins - lasts - sooner;
      if (from <= plan.start[move]! || this.#moveAt(job, plan, k, before, from, begins, stageAfter(plan, k))) return;
    }
  }

  /**
   * Moves the car from stage `before` into stage `k` at `from` at the soonest, arriving by `latest`, to stay until it leaves for
   * stage `after`; undone unless that is better.
   */
  #moveAt(
    job: JobModel,
    plan: JobPlan,
    k: number,
    before: number,
    from: number,
    latest: number,
    after: number,
  ): boolean {
    const { levels, shop } = this.#book;
    const { move } = job.stages[k]!;
    if (job.operations[move]!.fixing !== 'open' || arrivalFact(job, k) >= 0) return false;
    const { busy } = shop.places[plan.place[k]!]!;
    const free = Math.max(levels.lastAbove(busy, from, plan.to[k]!, 0), from);
    if (free >= latest) return false;
    const [start, end, mode] = [plan.start[move]!, plan.end[move]!, plan.mode[move]!];
    const stands = Math.max(plan.to[before]!, shop.now);
    const standing: Standing = {
      plan,
      present: this.#presence(job, plan),
      time: free,
      gapEnd: levels.nextAbove(shop.places[plan.place[before]!]!.busy, stands, 0),
      place: plan.place[before]!,
    };
    plan.mode[move] = -1;
    this.#takeOwn(job, plan, 1);
    this.#fit.overtimeAllowed = false;
    const found = this.#mover.find(job, standing, k, plan.place[k]!, free, latest);
    this.#takeOwn(job, plan, -1);
    plan.mode[move] = mode;
    if (!found) return false;
    this.#write(plan, k, before, move, this.#mover.start, this.#mover.end, this.#mover.mode);
    if (this.#isFree(job, plan, k, before, after) && this.#isBetter(job, plan)) return true;
    this.#write(plan, k, before, move, start, end, mode);
    return false;
  }

  #write(plan: JobPlan, k: number, before: number, move: number, start: number, end: number, mode: number): void {
    plan.start[move] = start;
    plan.end[move] = end;
    plan.mode[move] = mode;
    plan.from[k] = end;
    plan.to[before] = end;
  }

  /** Whether the plan has become better; it is what the next change is judged against then. */
  #isBetter(job: JobModel, plan: JobPlan): boolean {
    costJob(this.#book.shop, job, plan, this.#cost);
    if (compareTiers(this.#cost, this.#than) >= 0) return false;
    this.#than.set(this.#cost);
    return true;
  }

  /** Takes into account, or forgets again, whom the job's own work keeps busy. */
  #takeOwn(job: JobModel, plan: JobPlan, sign: number): void {
    const last = job.operations.length - 1;
    for (let step = 0; step <= last; step++) {
      const i = sign > 0 ? step : last - step;
      if (plan.mode[i]! < 0 || job.operations[i]!.fixing === 'pinned') continue;
      if (sign > 0) this.#fit.push(job, i, plan);
      else this.#fit.pop(job, i, plan);
    }
    for (const link of job.crews) this.#book.useGap(job, link, plan, sign);
  }

  #presence(job: JobModel, plan: JobPlan): Uint8Array {
    if (this.#present.length < job.operations.length) this.#present = new Uint8Array(2 * job.operations.length);
    for (let i = 0; i < job.operations.length; i++) this.#present[i] = plan.mode[i]! < 0 ? 0 : 1;
    return this.#present;
  }

  /** Whether the stay's work does something to the air of its place, so that elsewhere it might be in somebody's way. */
  #fillsAir(job: JobModel, plan: JobPlan, k: number): boolean {
    for (const { stage, from, to } of job.spans) {
      if (stage === k && plan.mode[from]! >= 0 && plan.mode[to]! >= 0) return true;
    }
    return false;
  }
}

/** Whether the stay in stage `before` or `after` is in a place; either may be -1. */
function isPlaceOfEither(plan: JobPlan, before: number, after: number, place: number): boolean {
  return (before >= 0 && plan.place[before] === place) || (after >= 0 && plan.place[after] === place);
}

/** The stage before `k` whose stay is there; -1 when `k` is the first. */
function stageBefore(plan: JobPlan, k: number): number {
  let before = k - 1;
  while (before >= 0 && plan.place[before]! < 0) before--;
  return before;
}

/** The stage after `k` whose stay is there; -1 when `k` is the last. */
function stageAfter(plan: JobPlan, k: number): number {
  for (let after = k + 1; after < plan.place.length; after++) if (plan.place[after]! >= 0) return after;
  return -1;
}

/** When the first work of stage `k` begins; NEVER when it has none. */
function workBegins(job: JobModel, plan: JobPlan, k: number): number {
  const { opsFrom, opsTo, move } = job.stages[k]!;
  let begins = NEVER;
  for (let i = opsFrom; i < opsTo; i++) {
    if (i !== move && job.operations[i]!.inStay && plan.mode[i]! >= 0) begins = Math.min(begins, plan.start[i]!);
  }
  return begins;
}

/** When the car is done with in stage `k`: its last work there has ended, or it has come. */
function workEnds(job: JobModel, plan: JobPlan, k: number): number {
  const { opsFrom, opsTo, move } = job.stages[k]!;
  let ends = plan.from[k]!;
  for (let i = opsFrom; i < opsTo; i++) {
    if (i !== move && job.operations[i]!.inStay && plan.mode[i]! >= 0) ends = Math.max(ends, plan.end[i]!);
  }
  return ends;
}

/** Whether everything planned in stage `k` can be done the same way in another place. */
function canBeDoneAt(job: JobModel, plan: JobPlan, k: number, place: number): boolean {
  const { opsFrom, opsTo } = job.stages[k]!;
  for (let i = opsFrom; i < opsTo; i++) {
    const operation = job.operations[i]!;
    if (!operation.inStay || plan.mode[i]! < 0) continue;
    const { places } = operation.modes[plan.mode[i]!]!;
    if (places !== null && places[place] === 0) return false;
  }
  return true;
}
