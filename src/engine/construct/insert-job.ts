import { NEVER } from '../calendar/never.ts';
import type { Blocked } from './blocked.ts';
import type { Book } from './book.ts';
import { ANY_CREW, EarliestFit, NO_NOISE, type Noise } from './earliest-fit.ts';
import { costJob, dropOff, pickup } from './job-cost.ts';
import { arrivalFact, departureFact } from './job-facts.ts';
import type { JobModel, StageModel } from './job-model.ts';
import { JobPlan } from './job-plan.ts';
import { OperationPlacer } from './place-operations.ts';

export interface InsertOptions {
  /** Labels kept after each stay: how many different ways on are followed. */
  readonly width: number;
  /** How often the whole job is tried anew, later, when it runs into a dead end. */
  readonly restarts: number;
  readonly noise: Noise;
  /** Earliest drop-off wanted; the job's own release when that is later. */
  readonly notBefore: number;
  /** Only these places for the first stay; null means any it can take. */
  readonly firstPlaces: readonly number[] | null;
  /** Whether later drop-offs are tried too, for a shorter stay at no cost to the promise. */
  readonly laterDropOffs: boolean;
}

/** For a job by itself. */
export const THOROUGH: InsertOptions = {
  width: 3,
  restarts: 60,
  noise: NO_NOISE,
  notBefore: 0,
  firstPlaces: null,
  laterDropOffs: false,
};

/** Most gaps of one place in which one stay is tried. */
const MOST_GAPS = 12;
/** Most combinations of branches that are tried. */
const MOST_COMBINATIONS = 6;

/** How many later drop-offs are tried. */
const DROP_OFF_HALVINGS = 4;

/** A way to have brought the job as far as the end of one stay. */
class Label {
  readonly plan: JobPlan;
  readonly present: Uint8Array;
  /** When the car can leave: the end of the last work of the stay. */
  time = 0;
  /** Until when the place is free for it to stay; NEVER without bound. */
  gapEnd = NEVER;
  /** Stage of the last stay that is present; -1 before drop-off. */
  stage = -1;

  constructor(operations: number, stages: number) {
    this.plan = new JobPlan(operations, stages);
    this.present = new Uint8Array(operations);
  }

  copyFrom(other: Label): void {
    this.plan.copyFrom(other.plan);
    this.present.set(other.present);
    this.time = other.time;
    this.gapEnd = other.gapEnd;
    this.stage = other.stage;
  }
}

/**
 * Finds a plan for one job in what the book has left, moving nobody else. Labels are set stay by stay: for each way
 * to have come so far, each place and each free gap of it, the stay's work is placed as early as it goes, and the few
 * labels that free the car first are followed on.
 */
export class JobInserter {
  readonly #book: Book;
  readonly #fit: EarliestFit;
  readonly #placer: OperationPlacer;
  readonly #overtime: boolean;
  blocked: Blocked | null = null;
  #deadEnd = NEVER;

  constructor(book: Book) {
    this.#book = book;
    this.#fit = new EarliestFit(book);
    this.#placer = new OperationPlacer(book, this.#fit);
    this.#overtime = book.shop.resources.some((resource) => resource.overtime !== null);
  }

  /** Units of search work done so far. */
  get work(): number {
    return this.#fit.work;
  }

  /** Labels are used again, and are large enough for any job seen so far. */
  #pool: Label[] = [];
  #used = 0;
  #operations = 0;
  #stages = 0;

  #label(): Label {
    if (this.#used === this.#pool.length) this.#pool.push(new Label(this.#operations, this.#stages));
    return this.#pool[this.#used++]!;
  }

  /** The best plan found for job `j`, which must not be in the book; null when there is none before the horizon. */
  insert(j: number, options: InsertOptions): JobPlan | null {
    const job = this.#book.jobs[j]!;
    this.blocked = null;
    if (job.operations.length > this.#operations || job.stages.length > this.#stages) {
      this.#operations = Math.max(job.operations.length, this.#operations);
      this.#stages = Math.max(job.stages.length, this.#stages);
      this.#pool = [];
    }
    this.#fit.noise = options.noise;
    // The job's own car, standing where it is without end, must not be in its own way.
    this.#book.stand(job, -1);
    let plan = this.#inHours(job, options);
    if (plan !== null && options.laterDropOffs && !job.inShop) plan = this.#later(job, plan, options);
    this.#book.stand(job, 1);
    return plan;
  }

  /** Halves the wait that is left in the plan again and again, keeping the drop-off that costs least. */
  #later(job: JobModel, first: JobPlan, options: InsertOptions): JobPlan {
    let best = first;
    const arrived = dropOff(job, first);
    let delay = (job.ready < 0 ? pickup(job, first) : first.end[job.ready]!) - arrived - job.leastMinutes;
    for (let halving = 0; halving < DROP_OFF_HALVINGS && delay > 0; halving++) {
      const plan = this.#inHours(job, { ...options, notBefore: arrived + delay });
      if (plan !== null && this.#isBetter(job, plan, best)) best = plan;
      delay >>= 1;
    }
    return best;
  }

  /** Without overtime when that keeps the promise, with it when that is better. */
  #inHours(job: JobModel, options: InsertOptions): JobPlan | null {
    this.#fit.overtimeAllowed = !this.#overtime;
    const regular = this.#bestBranches(job, options);
    if (!this.#overtime || (regular !== null && !this.#isLate(job, regular))) return regular;
    this.#fit.overtimeAllowed = true;
    const extended = this.#bestBranches(job, options);
    return extended === null || (regular !== null && !this.#isBetter(job, extended, regular)) ? regular : extended;
  }

  #isLate(job: JobModel, plan: JobPlan): boolean {
    return pickup(job, plan) > Math.min(job.promiseAt, job.dueAt);
  }

  #bestBranches(job: JobModel, options: InsertOptions): JobPlan | null {
    let best: JobPlan | null = null;
    for (const present of presences(job)) {
      const plan = this.#withRestarts(job, present, options);
      if (plan !== null && (best === null || this.#isBetter(job, plan, best))) best = plan;
    }
    return best;
  }

  #withRestarts(job: JobModel, present: Uint8Array, options: InsertOptions): JobPlan | null {
    const floor = new Int32Array(job.operations.length);
    let notBefore = Math.max(options.notBefore, job.release, this.#book.shop.now);
    for (let restart = 0; restart <= options.restarts; restart++) {
      this.#deadEnd = NEVER;
      this.#earlierOperation = -1;
      this.#used = 0;
      const plan = this.#fromStart(job, present, floor, notBefore, options);
      if (plan !== null) return plan;
      if (this.#earlierOperation >= 0) {
        const operation = this.#earlierOperation;
        floor[operation] = Math.max(floor[operation]! + 1, this.#earlierFloor);
        if (floor[operation]! >= this.#book.shop.horizon) return null;
      } else if (this.#deadEnd < this.#book.shop.horizon && job.stages[0]!.fixedPlace < 0) {
        notBefore = Math.max(notBefore + 1, this.#deadEnd);
      } else return null;
    }
    return null;
  }

  #earlierOperation = -1;
  #earlierFloor = 0;

  #fromStart(
    job: JobModel,
    present: Uint8Array,
    floor: Int32Array,
    notBefore: number,
    options: InsertOptions,
  ): JobPlan | null {
    const root = this.#label();
    root.plan.reset(job);
    root.gapEnd = NEVER;
    root.stage = -1;
    root.present.set(present);
    root.time = notBefore;
    let labels = [root];
    for (let k = 0; k < job.stages.length; k++) {
      const next: Label[] = [];
      for (const label of labels) this.#expand(job, label, k, floor, next, options);
      const skippable = job.stages[k]!.optional && job.stages[k]!.fixedPlace < 0;
      if (next.length === 0 && !skippable) {
        for (const label of labels) {
          if (label.stage >= 0) this.#deadEnd = Math.min(this.#deadEnd, label.gapEnd);
        }
        return null;
      }
      labels = skippable ? [...labels, ...keepBest(next, 1)] : keepBest(next, options.width);
    }
    let best: JobPlan | null = null;
    for (const label of labels) {
      if (!this.#finish(job, label)) continue;
      if (best === null || this.#isBetter(job, label.plan, best)) best = label.plan;
    }
    return best === null ? null : best.fitted(job);
  }

  /** Follows `label` into stage `k`, adding what it leads to. */
  #expand(job: JobModel, label: Label, k: number, floor: Int32Array, next: Label[], options: InsertOptions): void {
    const stage = job.stages[k]!;
    this.#cap = NEVER;
    const work = this.#label();
    work.copyFrom(label);
    const { plan } = work;
    this.#placer.begin(job, plan, work.present, floor);
    this.#take(job, label, 1);
    const arrived = arrivalFact(job, k);
    if (stage.stay < 0) this.#try(job, work, k, -1, label.time, this.#book.shop.horizon, next);
    else if (arrived >= 0) this.#stands(job, work, label, k, arrived, next);
    else {
      this.#candidates(job, label, k, options);
      const { places, kinds, suits } = stage;
      this.#settledKinds.clear();
      this.#settledSuits.clear();
      for (const c of this.#order) {
        const place = this.#candidatePlace[c]!;
        this.#cap = enoughBy(next, options.width);
        if (this.#candidateFrom[c]! + stage.leastMinutes >= this.#cap) break;
        const suit = suits[places.indexOf(place)] ?? -1;
        // When one way on is enough, and nothing was put off by the air of the place, a place that is free later or as
        // late cannot do better.
        if (this.#settledSuits.has(suit)) continue;
        if (label.stage >= 0 && label.plan.place[label.stage] === place) {
          const remained = this.#remains(job, work, label, k, place, next);
          if (remained && options.width === 1 && !this.#placer.airDelayed) this.#settledSuits.add(suit);
          continue;
        }
        // Places of one kind that are free from before the car can come lead to the same plan: two are enough, a tight
        // gap and an open-ended one.
        const kind = kinds[places.indexOf(place)] ?? -1;
        const key = (kind * 2 + (this.#candidateUntil[c]! >= NEVER ? 1 : 0)) * NEVER + this.#candidateFrom[c]!;
        if (kind >= 0 && this.#settledKinds.has(key)) continue;
        if (!this.#arrives(job, work, label, k, place, next, options)) continue;
        this.#settledKinds.add(key);
        if (options.width === 1 && suit >= 0 && !this.#placer.airDelayed) this.#settledSuits.add(suit);
      }
    }
    this.#take(job, label, -1);
  }

  /** A stay that ends later than this would be dropped again: enough ways to be free sooner are known. */
  #cap = NEVER;
  readonly #settledKinds = new Set<number>();
  readonly #settledSuits = new Set<number>();
  readonly #order: number[] = [];
  readonly #candidatePlace: number[] = [];
  readonly #candidateFrom: number[] = [];
  readonly #candidateUntil: number[] = [];

  /**
   * The places stage `k` could take, in the order in which they come free; the place where the car is comes first. Of
   * gaps that begin together the tighter come first when several ways on are kept, the longer when only one is.
   */
  #candidates(job: JobModel, label: Label, k: number, options: InsertOptions): void {
    const stage = job.stages[k]!;
    const { levels, shop } = this.#book;
    const wanted = k === 0 && options.firstPlaces !== null ? options.firstPlaces : stage.places;
    const places = stage.fixedPlace >= 0 ? [stage.fixedPlace] : wanted;
    this.#order.length = 0;
    for (let c = 0; c < places.length; c++) {
      const { busy } = shop.places[places[c]!]!;
      const from = levels.nextRoom(busy, label.time, Math.max(1, stage.leastMinutes), 0);
      this.#candidatePlace[c] = places[c]!;
      this.#candidateFrom[c] = from;
      this.#candidateUntil[c] = from >= NEVER ? NEVER : levels.nextAbove(busy, from, 0);
      this.#order.push(c);
    }
    const here = label.stage < 0 ? -1 : label.plan.place[label.stage]!;
    const isHere = (c: number) => (this.#candidatePlace[c] === here ? 0 : 1);
    const tightFirst = options.width === 1 ? -1 : 1;
    this.#order.sort(
      (a, b) =>
        isHere(a) - isHere(b) ||
        this.#candidateFrom[a]! - this.#candidateFrom[b]! ||
        tightFirst * (this.#candidateUntil[a]! - this.#candidateUntil[b]!) ||
        a - b,
    );
  }

  /** The car stands where it is a fact that it came at `arrived`. */
  #stands(job: JobModel, work: Label, label: Label, k: number, arrived: number, next: Label[]): void {
    const stage = job.stages[k]!;
    const { levels, shop } = this.#book;
    for (const place of stage.fixedPlace >= 0 ? [stage.fixedPlace] : stage.places) {
      const left = departureFact(job, k);
      const { busy, open, cars, turnaround } = shop.places[place]!;
      let until = left;
      if (left >= NEVER) {
        // What overlaps a fact at `now` is not judged; what comes after is.
        const since = Math.max(arrived, shop.now);
        const closed = open !== null && !open.contains(shop.now);
        const row = closed ? cars : busy;
        until = levels.nextAbove(row, levels.nextRoom(row, since, 1, 0), 0);
        if (closed) until -= turnaround;
      }
      this.#settle(work, label, k, place, arrived);
      this.#try(job, work, k, place, Math.max(arrived, left >= NEVER ? shop.now : arrived), until, next);
    }
  }

  /** The car stays on in the place of the stay before. */
  #remains(job: JobModel, work: Label, label: Label, k: number, place: number, next: Label[]): boolean {
    const move = job.stages[k]!.move;
    if (move >= 0 && job.operations[move]!.fixing !== 'open') return false;
    const from = Math.max(label.time, this.#book.shop.now);
    this.#settle(work, label, k, place, from);
    return this.#try(job, work, k, place, from, label.gapEnd, next);
  }

  /** The car comes to another place, in the first of its gaps in which the stay's work fits. */
  #arrives(
    job: JobModel,
    work: Label,
    label: Label,
    k: number,
    place: number,
    next: Label[],
    options: InsertOptions,
  ): boolean {
    const { levels, shop } = this.#book;
    const stage = job.stages[k]!;
    const { busy } = shop.places[place]!;
    let tried = 0;
    let settled = false;
    let at = label.time;
    while (tried < MOST_GAPS) {
      const gapFrom = levels.nextRoom(busy, at, Math.max(1, stage.leastMinutes), 0);
      if (gapFrom >= shop.horizon || (label.stage >= 0 && gapFrom > label.gapEnd)) break;
      const gapEnd = Math.min(levels.nextAbove(busy, gapFrom, 0), NEVER);
      at = gapEnd;
      tried++;
      if (options.noise.passOver()) continue;
      let arrival = gapFrom;
      if (label.stage < 0 && job.arrival < 0 && job.dropOffOpen !== null) arrival = job.dropOffOpen.nextInside(gapFrom);
      if (label.stage >= 0) {
        arrival = this.#move(job, work, label, k, place, gapFrom, gapEnd);
        if (arrival < 0) {
          if (this.#moveTooLate) break;
          continue;
        }
      }
      this.#settle(work, label, k, place, arrival);
      settled = this.#try(job, work, k, place, arrival, gapEnd, next);
      if (settled || gapEnd >= this.#cap) break;
    }
    if (tried === 0) {
      this.blocked ??= { job: job.index, operation: -1, obstacle: 'place', index: stage.stay };
    }
    return settled;
  }

  #moveTooLate = false;

  /** Places the move into stage `k`; returns the arrival, or -1. */
  #move(job: JobModel, work: Label, label: Label, k: number, place: number, gapFrom: number, gapEnd: number): number {
    const { levels, shop } = this.#book;
    const stage: StageModel = job.stages[k]!;
    const before = label.plan.place[label.stage]!;
    this.#moveTooLate = true;
    if (stage.move < 0) return -1;
    const operation = job.operations[stage.move]!;
    const latestEnd = Math.min(gapEnd, label.gapEnd, operation.deadline, shop.horizon);
    const pinned = operation.fixing === 'pinned';
    let earliest = Math.max(label.time, shop.now, operation.release, operation.fixedStart);
    let earliestEnd = gapFrom;
    let latestStart = operation.fixing === 'open' ? NEVER : operation.fixedStart;
    for (const lag of operation.lags) {
      const comes = lag.to === stage.move;
      const other = comes ? lag.from : lag.to;
      if (work.plan.mode[other]! < 0) continue;
      const at = work.plan.edge(other, comes ? lag.fromEnd : lag.toEnd);
      const low = comes ? at + lag.min : lag.max < NEVER ? at - lag.max : 0;
      const high = comes ? (lag.max < NEVER ? at + lag.max : NEVER) : at - lag.min;
      if (comes ? lag.toEnd : lag.fromEnd) earliestEnd = Math.max(earliestEnd, low);
      else {
        earliest = Math.max(earliest, low);
        latestStart = Math.min(latestStart, high);
      }
    }
    for (;;) {
      let start = operation.fixedStart;
      let end = operation.fixedEnd;
      if (pinned) {
        if (start < earliest || end < earliestEnd || end > latestEnd) return -1;
      } else {
        if (!this.#fit.find(operation, -1, earliest, earliestEnd, latestStart, latestEnd, ANY_CREW)) {
          this.blocked = { job: job.index, operation: operation.index, obstacle: 'place', index: stage.stay };
          this.#moveTooLate = latestEnd < gapEnd;
          return -1;
        }
        start = this.#fit.start;
        end = this.#fit.end;
      }
      const target = shop.places[place]!;
      let clear = Math.max(
        levels.lastAbove(target.cars, start, end, 0),
        target.blocks ? levels.lastAbove(target.passages, start, end, 0) : -1,
      );
      for (const blocker of target.blockedBy)
        clear = Math.max(clear, levels.lastAbove(shop.places[blocker]!.cars, start, end, 0));
      for (const blocker of shop.places[before]!.blockedBy) {
        clear = Math.max(clear, levels.lastAbove(shop.places[blocker]!.cars, start, end, 0));
      }
      for (const still of job.stills) {
        if (work.plan.mode[still.from]! < 0) continue;
        const from = work.plan.edge(still.from, still.fromEnd);
        const to = work.plan.mode[still.to]! < 0 ? NEVER : work.plan.edge(still.to, still.toEnd);
        if (from < to && start < to && end > from) clear = Math.max(clear, to);
      }
      if (clear < 0) {
        if (!pinned) this.#placer.takeMove(stage.move);
        return end;
      }
      if (pinned || clear >= NEVER) return -1;
      earliest = clear;
    }
  }

  /** Writes where the car is from `arrival` on. */
  #settle(work: Label, label: Label, k: number, place: number, arrival: number): void {
    work.plan.place[k] = place;
    work.plan.from[k] = arrival;
    if (label.stage >= 0) work.plan.to[label.stage] = arrival;
  }

  /** Places the stay's work; on success adds a label. Leaves nothing placed. */
  #try(job: JobModel, work: Label, k: number, place: number, arrival: number, gapEnd: number, next: Label[]): boolean {
    const { plan } = work;
    const stage = job.stages[k]!;
    const latestEnd = Math.min(gapEnd, this.#cap, this.#book.shop.horizon);
    const placed = arrival <= latestEnd && this.#placer.placeStage(k, place, arrival, latestEnd);
    const done =
      placed && (work.stage >= 0 || place < 0 || arrivalFact(job, k) >= 0 || this.#dropOff(job, plan, k, arrival));
    if (done) {
      const label = this.#label();
      let time = arrival;
      for (let i = stage.opsFrom; i < stage.opsTo; i++) {
        const operation = job.operations[i]!;
        if (plan.mode[i]! >= 0 && i !== stage.move && (operation.inStay || stage.stay < 0))
          time = Math.max(time, plan.end[i]!);
      }
      label.copyFrom(work);
      label.stage = place < 0 ? -1 : k;
      label.time = time;
      label.gapEnd = gapEnd;
      next.push(label);
      this.#placer.clear(k);
      plan.place[k] = -1;
      this.#forgetRemedies(job, work, k);
      return true;
    }
    if (this.#placer.earlierOperation >= 0 && this.#earlierOperation < 0) {
      this.#earlierOperation = this.#placer.earlierOperation;
      this.#earlierFloor = this.#placer.earlierFloor;
    }
    if (this.#placer.blocked !== null) this.blocked = this.#placer.blocked;
    if (placed) this.#placer.clear(k);
    else this.#placer.clearMove(k);
    plan.place[k] = -1;
    return false;
  }

  /**
   * The drop-off is the start of the arrival, or else as late as the first work, the opening hours and the cars in
   * the way allow. False when there is no such minute from `earliest` on.
   */
  #dropOff(job: JobModel, plan: JobPlan, k: number, earliest: number): boolean {
    if (job.arrival >= 0) {
      plan.from[k] = plan.start[job.arrival]!;
      return true;
    }
    const stage = job.stages[k]!;
    let at = NEVER;
    for (let i = stage.opsFrom; i < stage.opsTo; i++) {
      if (job.operations[i]!.inStay && plan.mode[i]! >= 0) at = Math.min(at, plan.start[i]!);
    }
    if (at >= NEVER) at = earliest;
    const { levels, shop } = this.#book;
    const { blockedBy } = shop.places[plan.place[k]!]!;
    for (; at >= earliest; at--) {
      if (job.dropOffOpen !== null) at = job.dropOffOpen.lastInside(at);
      for (const still of job.stills) {
        if (plan.mode[still.from]! < 0) continue;
        const from = plan.edge(still.from, still.fromEnd);
        if (at >= from && (plan.mode[still.to]! < 0 || at < plan.edge(still.to, still.toEnd))) at = from - 1;
      }
      if (at < earliest) return false;
      const minute = at;
      if (blockedBy.some((blocker) => levels.lastAbove(shop.places[blocker]!.cars, minute, minute + 1, 0) >= 0))
        continue;
      plan.from[k] = at;
      return true;
    }
    return false;
  }

  #forgetRemedies(job: JobModel, work: Label, k: number): void {
    const stage = job.stages[k]!;
    for (let i = stage.opsFrom; i < stage.opsTo; i++) {
      for (const lag of job.operations[i]!.lags) {
        for (const remedy of lag.remedy) if (job.operations[remedy]!.fixing === 'open') work.present[remedy] = 0;
      }
    }
  }

  /** Sets the pickup; false when the car cannot leave while its last place is free. */
  #finish(job: JobModel, label: Label): boolean {
    const { plan } = label;
    if (label.stage < 0) return true;
    const place = this.#book.shop.places[plan.place[label.stage]!]!;
    let at = label.time;
    if (job.handover >= 0 && plan.mode[job.handover]! >= 0) at = Math.max(at, plan.end[job.handover]!);
    else {
      for (;;) {
        const before = at;
        if (job.pickupOpen !== null) at = job.pickupOpen.nextInside(at);
        for (const still of job.stills) {
          if (plan.mode[still.from]! < 0 || plan.mode[still.to]! < 0) continue;
          if (at >= plan.edge(still.from, still.fromEnd)) at = Math.max(at, plan.edge(still.to, still.toEnd));
        }
        for (const blocker of place.blockedBy) {
          at = Math.max(at, this.#book.levels.lastAbove(this.#book.shop.places[blocker]!.cars, at, at + 1, 0));
        }
        if (at === before || at >= NEVER) break;
      }
    }
    plan.to[label.stage] = at;
    if (at <= label.gapEnd && at <= this.#book.shop.horizon) return true;
    this.#deadEnd = Math.min(this.#deadEnd, label.gapEnd);
    this.blocked = { job: job.index, operation: -1, obstacle: 'place', index: job.stages[label.stage]!.stay };
    return false;
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

  readonly #costA: Float64Array = new Float64Array(8);
  readonly #costB: Float64Array = new Float64Array(8);

  /** Less in the first tier that differs; then the earlier leaving. */
  #isBetter(job: JobModel, plan: JobPlan, than: JobPlan): boolean {
    costJob(this.#book.shop, job, plan, this.#costA);
    costJob(this.#book.shop, job, than, this.#costB);
    const tiers = this.#book.shop.problem.tiers.length;
    for (let k = 0; k < tiers; k++) {
      if (this.#costA[k] !== this.#costB[k]) return this.#costA[k]! < this.#costB[k]!;
    }
    return pickup(job, plan) < pickup(job, than);
  }
}

/** The time by which `width` labels in different places are free; NEVER when there are fewer. */
function enoughBy(labels: readonly Label[], width: number): number {
  if (labels.length < width) return NEVER;
  const kept = keepBest([...labels], width);
  return kept.length < width ? NEVER : kept[width - 1]!.time;
}

/** The few labels that are free first, one a place. */
function keepBest(labels: Label[], width: number): Label[] {
  const seen = new Set<number>();
  const kept: Label[] = [];
  for (const label of labels.sort((a, b) => a.time - b.time || b.gapEnd - a.gapEnd)) {
    const place = label.stage < 0 ? -1 : label.plan.place[label.stage]!;
    if (seen.has(place)) continue;
    seen.add(place);
    kept.push(label);
    if (kept.length === width) break;
  }
  return kept;
}

/** Which operations are there to begin with, one answer for each combination of branches. */
function presences(job: JobModel): Uint8Array[] {
  const base = Uint8Array.from(job.operations, (operation) =>
    operation.optional && operation.fixing === 'open' ? 0 : 1,
  );
  for (const stage of job.stages) if (stage.move >= 0) base[stage.move] = 0;
  let combinations = [base];
  for (const alternatives of job.branches) {
    const frozen = alternatives.flat().find((i) => job.operations[i]!.fixing !== 'open' && !job.operations[i]!.fact);
    const open =
      frozen === undefined ? alternatives : alternatives.filter((alternative) => alternative.includes(frozen));
    combinations = combinations
      .flatMap((present) =>
        open.map((alternative) => {
          const chosen = present.slice();
          for (const i of alternative) chosen[i] = 1;
          return chosen;
        }),
      )
      .slice(0, MOST_COMBINATIONS);
  }
  return combinations;
}
