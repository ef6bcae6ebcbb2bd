import { NEVER } from '../calendar/never.ts';
import type { Blocked } from './blocked.ts';
import type { Book } from './book.ts';
import { CandidatePlaces } from './candidate-places.ts';
import { dropOffMinute } from './drop-off-and-pickup.ts';
import type { EarliestFit } from './earliest-fit.ts';
import type { InsertOptions } from './insert-options.ts';
import { dropOff } from './job-cost.ts';
import { arrivalFact, departureFact } from './job-facts.ts';
import type { JobModel, LagModel } from './job-model.ts';
import { enoughBy, type Label, type LabelPool } from './label.ts';
import { CarMover } from './move-car.ts';
import { OperationPlacer } from './place-operations.ts';

/** Most gaps of one place in which one stay is tried. */
const MOST_GAPS = 12;

/**
 * Follows a job from stay to stay: for a label, each place of the next stay, and each free gap of it, moves the car and
 * places the stay's work as early as it goes. What it finds are the labels after that stay.
 */
export class StayFollower {
  readonly #book: Book;
  readonly #fit: EarliestFit;
  readonly #pool: LabelPool;
  readonly #placer: OperationPlacer;
  readonly #mover: CarMover;
  readonly #candidates = new CandidatePlaces();
  /** Kinds, by the minute they are free from, and suits of places in which nothing better is to be found. */
  readonly #settledKinds: number[] = [];
  readonly #settledSuits: number[] = [];
  /** A stay that ends later than this would be dropped again: enough ways to be free sooner are known. */
  #cap = NEVER;
  /** What stood in the way last. */
  blocked: Blocked | null = null;
  /** An operation of an earlier stay that should have started at `earlierFloor` or later; -1 when there was none. */
  earlierOperation = -1;
  earlierFloor = 0;
  /** A lag whose remedy belongs into an earlier stay than the one in which it lapsed; null when there was none. */
  earlierRemedy: LagModel | null = null;

  constructor(book: Book, fit: EarliestFit, pool: LabelPool) {
    this.#book = book;
    this.#fit = fit;
    this.#pool = pool;
    this.#placer = new OperationPlacer(book, fit);
    this.#mover = new CarMover(book, fit);
  }

  /** Whether the limit on what the job may cost ended the search somewhere since this was set to false. */
  get limited(): boolean {
    return this.#placer.limited;
  }

  set limited(limited: boolean) {
    this.#placer.limited = limited;
  }

  /** Follows `label` into stage `k`, adding to `next` what it leads to. `floor`: earliest starts learnt before. */
  follow(job: JobModel, label: Label, k: number, floor: Int32Array, next: Label[], options: InsertOptions): void {
    const stage = job.stages[k]!;
    this.#cap = NEVER;
    const work = this.#pool.take();
    work.copyFrom(label);
    this.#placer.begin(job, work.plan, work.present, floor);
    this.#placer.limit = options.limit;
    this.#placer.dropOff = label.stage < 0 || options.limit.mostLead >= NEVER ? -1 : dropOff(job, label.plan);
    this.#take(job, label, 1);
    const arrived = arrivalFact(job, k);
    if (stage.stay < 0) this.#try(job, work, k, -1, label.time, this.#book.shop.horizon, next);
    else if (arrived >= 0) this.#stands(job, work, k, arrived, next);
    else this.#choosePlace(job, work, k, next, options);
    this.#take(job, label, -1);
  }

  #choosePlace(job: JobModel, work: Label, k: number, next: Label[], options: InsertOptions): void {
    const stage = job.stages[k]!;
    const { order, place, from, kind, suit } = this.#candidates;
    const wanted = k === 0 && options.firstPlaces !== null ? options.firstPlaces : stage.places;
    this.#candidates.read(this.#book, work, stage, stage.fixedPlace >= 0 ? [stage.fixedPlace] : wanted, options.width);
    this.#settledKinds.length = 0;
    this.#settledSuits.length = 0;
    for (const c of order) {
      this.#cap = enoughBy(next, options.width);
      // Of ways that free the car at the same minute the first will do where one is enough: it has the longer gap.
      if (options.width === 1 && this.#cap < NEVER) this.#cap--;
      if (from[c]! + stage.leastMinutes >= this.#cap) break;
      // When one way on is enough, and the air of the place put nothing off, one that is free no sooner does no better.
      if (this.#settledSuits.includes(suit[c]!)) continue;
      // Places of one kind that are free at the same minute lead to the same plan: the tightest gap, which wastes
      // least, and the longest, in which the car can wait longest for its next place, are enough.
      const longest = this.#candidates.isLongest(c);
      const key = (kind[c]! * 2 + (longest ? 1 : 0)) * NEVER + from[c]!;
      const remains = work.place === place[c];
      if (!remains && kind[c]! >= 0 && this.#settledKinds.includes(key)) continue;
      const settled = remains
        ? this.#remains(job, work, k, next)
        : this.#arrives(job, work, k, place[c]!, next, options);
      if (!settled) continue;
      if (!remains) this.#settledKinds.push(key);
      if (options.width === 1 && suit[c]! >= 0 && !this.#placer.airDelayed) this.#settledSuits.push(suit[c]!);
    }
  }

  /** The car stands where it is a fact that it came at `arrived`. */
  #stands(job: JobModel, work: Label, k: number, arrived: number, next: Label[]): void {
    const stage = job.stages[k]!;
    const { levels, shop } = this.#book;
    // Before a stay that has begun there is no time for one that is still to begin.
    if (work.stage >= 0 && work.plan.from[work.stage]! > arrived) return;
    const left = departureFact(job, k);
    for (const place of stage.fixedPlace >= 0 ? [stage.fixedPlace] : stage.places) {
      const { busy, open, cars, turnaround } = shop.places[place]!;
      let until = left;
      if (left >= NEVER) {
        // What overlaps a fact at `now` is not judged; what comes after is.
        const since = Math.max(arrived, shop.now);
        const closed = open !== null && (stage.standsOn || !open.contains(shop.now));
        const row = closed ? cars : busy;
        until = levels.nextAbove(row, levels.nextRoom(row, since, 1, 0), 0);
        if (closed) until -= turnaround;
        // Whoever comes only after `since` is judged, even where the turnaround before it reaches back so far.
        const comes = levels.nextAbove(cars, levels.nextRoom(cars, since, 1, 0), 0);
        if (comes < NEVER) until = Math.min(until, comes - turnaround);
      }
      this.#settle(work, k, place, arrived);
      this.#try(job, work, k, place, left >= NEVER ? Math.max(arrived, shop.now) : arrived, until, next);
    }
  }

  /** The car stays on in the place of the stay before. */
  #remains(job: JobModel, work: Label, k: number, next: Label[]): boolean {
    const move = job.stages[k]!.move;
    if (move >= 0 && job.operations[move]!.fixing !== 'open') return false;
    const from = Math.max(work.time, this.#book.shop.now);
    const place = work.place;
    const { levels, shop } = this.#book;
    // Where the car stands by fact others may overlap it; where it stays on by plan they may not.
    if (arrivalFact(job, work.stage) >= 0 && levels.nextRoom(shop.places[place]!.busy, from, 1, 0) > from) return false;
    this.#settle(work, k, place, from);
    return this.#try(job, work, k, place, from, work.gapEnd, next);
  }

  /** The car comes to another place, in the first of its gaps in which the stay's work fits. */
  #arrives(job: JobModel, work: Label, k: number, place: number, next: Label[], options: InsertOptions): boolean {
    const { levels, shop } = this.#book;
    const stage = job.stages[k]!;
    const { busy } = shop.places[place]!;
    let at = work.time;
    for (let tried = 0; tried < MOST_GAPS; tried++) {
      const gapFrom = levels.nextRoom(busy, at, Math.max(1, stage.leastMinutes), 0);
      if (gapFrom >= shop.horizon || (work.stage >= 0 && gapFrom > work.gapEnd)) {
        if (tried === 0) this.blocked ??= { job: job.index, operation: -1, obstacle: 'place', index: stage.stay };
        return false;
      }
      const gapEnd = levels.nextAbove(busy, gapFrom, 0);
      at = gapEnd;
      if (options.noise.passOver()) continue;
      const arrival = this.#arrival(job, work, k, place, gapFrom, gapEnd);
      if (arrival >= 0) {
        this.#settle(work, k, place, arrival);
        if (this.#try(job, work, k, place, arrival, gapEnd, next)) return true;
        if (gapEnd >= this.#cap) return false;
      } else if (this.#mover.tooLate) return false;
    }
    return false;
  }

  /** When the car can be at `place` in the gap, its move placed if it takes one; -1 when it cannot. */
  #arrival(job: JobModel, work: Label, k: number, place: number, gapFrom: number, gapEnd: number): number {
    if (work.stage < 0) {
      return job.arrival < 0 && job.dropOffOpen !== null ? job.dropOffOpen.nextInside(gapFrom) : gapFrom;
    }
    const move = job.stages[k]!.move;
    if (!this.#mover.find(job, work, k, place, gapFrom, gapEnd)) {
      const operation = move < 0 ? -1 : job.operations[move]!.index;
      this.blocked = { job: job.index, operation, obstacle: 'place', index: job.stages[k]!.stay };
      return -1;
    }
    if (job.operations[move]!.fixing !== 'pinned') {
      this.#placer.takeMove(move, this.#mover.start, this.#mover.end, this.#mover.mode);
    }
    return this.#mover.end;
  }

  /** Writes where the car is from `arrival` on. */
  #settle(work: Label, k: number, place: number, arrival: number): void {
    work.plan.place[k] = place;
    work.plan.from[k] = arrival;
    if (work.stage >= 0) work.plan.to[work.stage] = arrival;
  }

  /** Places the stay's work; on success adds a label. Leaves nothing placed. */
  #try(job: JobModel, work: Label, k: number, place: number, arrival: number, gapEnd: number, next: Label[]): boolean {
    const latestEnd = Math.min(gapEnd, this.#cap, this.#book.shop.horizon);
    const placed = arrival <= latestEnd && this.#placer.placeStage(k, place, arrival, latestEnd);
    const settled = placed && this.#isDroppedOff(job, work, k, place, arrival);
    if (settled) next.push(this.#labelAfter(job, work, k, place, arrival, gapEnd));
    else {
      if (this.#placer.earlierOperation >= 0 && this.earlierOperation < 0) {
        this.earlierOperation = this.#placer.earlierOperation;
        this.earlierFloor = this.#placer.earlierFloor;
      }
      this.earlierRemedy ??= this.#placer.earlierRemedy;
      if (this.#placer.blocked !== null) this.blocked = this.#placer.blocked;
    }
    if (placed) this.#placer.clear(k);
    else this.#placer.clearMove(k);
    work.plan.place[k] = -1;
    return settled;
  }

  #labelAfter(job: JobModel, work: Label, k: number, place: number, arrival: number, gapEnd: number): Label {
    const stage = job.stages[k]!;
    const label = this.#pool.take();
    label.copyFrom(work);
    label.stage = place < 0 ? -1 : k;
    label.gapEnd = gapEnd;
    label.time = arrival;
    for (let i = stage.opsFrom; i < stage.opsTo; i++) {
      if (work.plan.mode[i]! < 0 || i === stage.move || (!job.operations[i]!.inStay && stage.stay >= 0)) continue;
      label.time = Math.max(label.time, work.plan.end[i]!);
    }
    return label;
  }

  /** Sets the drop-off, when this is the first stay and its arrival is not a fact; false when there is no minute for it. */
  #isDroppedOff(job: JobModel, work: Label, k: number, place: number, arrival: number): boolean {
    if (work.stage >= 0 || place < 0 || arrivalFact(job, k) >= 0) return true;
    const minute = dropOffMinute(this.#book, job, work.plan, k, arrival);
    work.plan.from[k] = minute;
    return minute >= 0;
  }

  /** Takes into account, or forgets again, what `label` holds and later stays might run into. */
  #take(job: JobModel, label: Label, sign: number): void {
    const { plan } = label;
    const last = job.operations.length - 1;
    for (let k = 0; k <= last; k++) {
      const i = sign > 0 ? k : last - k;
      const operation = job.operations[i]!;
      if (plan.mode[i]! < 0 || operation.fixing === 'pinned') continue;
      if (plan.end[i]! <= label.time && operation.modes[plan.mode[i]!]!.budget === null) continue;
      if (sign > 0) this.#fit.push(job, i, plan);
      else this.#fit.pop(job, i, plan);
    }
    for (const link of job.crews) this.#book.useGap(job, link, plan, sign);
    for (const span of job.spans) this.#book.useAir(span, plan, sign);
  }
}
