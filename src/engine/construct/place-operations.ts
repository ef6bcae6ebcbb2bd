import { NEVER } from '../calendar/never.ts';
import { airExcess } from './air-clearance.ts';
import type { Blocked } from './blocked.ts';
import type { Book } from './book.ts';
import { type CostLimit, NO_LIMIT } from './cost-limit.ts';
import { passageUntil } from './drop-off-and-pickup.ts';
import type { EarliestFit } from './earliest-fit.ts';
import type { JobModel, LagModel } from './job-model.ts';
import type { JobPlan } from './job-plan.ts';
import { hasLapsed, isRemedied, LagWindow } from './lag-window.ts';
import { crewFor, gapBusyUntil } from './tied-crew.ts';

/** How often operations of one stage may be pushed back before the place is given up. */
const MOST_SHIFTS = 60;

/**
 * Places the operations of one stay, earliest first along their lags. Where a maximum lag, an air rule or a kept crew
 * cannot be met, the operation it began with is pushed back by the excess and everything after it placed anew, so
 * that a tied block moves as one; where it cannot be pushed, the lag's remedy is put in.
 *
 * What is placed is taken into account until `clear`.
 */
export class OperationPlacer {
  readonly #book: Book;
  readonly #fit: EarliestFit;
  readonly #window = new LagWindow();
  #job!: JobModel;
  #plan!: JobPlan;
  /** By operation, 1 when it is to be placed. */
  #present!: Uint8Array;
  /** By operation, the earliest start learnt from maximum lags that reach back into earlier stays. */
  #floor!: Int32Array;
  /** By operation, the earliest start learnt while placing this stage. */
  #pushed = new Int32Array(64);
  /** Lags of this stage whose remedy has been put in. */
  #remedied: LagModel[] = [];
  /** The first lag of an attempt whose maximum was overrun, if it has a remedy. */
  #lapsed: LagModel | null = null;
  /** The operation of an earlier stay that should have started later, and when; -1 when that was not the trouble. */
  earlierOperation = -1;
  earlierFloor = 0;
  /** A lag counted from what nothing can push, overrun, whose remedy belongs into an earlier stay; null when that was not the trouble. */
  earlierRemedy: LagModel | null = null;
  /** What stood in the way last. */
  blocked: Blocked | null = null;
  /** What the job's plan may cost. */
  limit: CostLimit = NO_LIMIT;
  /** When the car was dropped off; -1 while that is still to be found. */
  dropOff = -1;
  /** Whether the limit, not the shop, ended the search for an operation's time. */
  limited = false;
  /** Whether other air has put something off in the stage placed last. */
  airDelayed = false;

  constructor(book: Book, fit: EarliestFit) {
    this.#book = book;
    this.#fit = fit;
  }

  begin(job: JobModel, plan: JobPlan, present: Uint8Array, floor: Int32Array): void {
    this.#job = job;
    this.#plan = plan;
    this.#present = present;
    this.#floor = floor;
    this.#remedied = [];
    this.blocked = null;
    if (this.#pushed.length < job.operations.length) this.#pushed = new Int32Array(job.operations.length * 2);
  }

  /** Places everything of stage `k` but its move, within [arrival, latestEnd) at `place`; nothing stays placed on failure. */
  placeStage(k: number, place: number, arrival: number, latestEnd: number): boolean {
    this.earlierOperation = -1;
    this.earlierRemedy = null;
    this.airDelayed = false;
    const stage = this.#job.stages[k]!;
    if (this.#job.fixed && !this.#pinnedKept(k, place, arrival, latestEnd)) return false;
    for (;;) {
      this.#lapsed = null;
      for (let i = stage.opsFrom; i < stage.opsTo; i++) this.#pushed[i] = this.#floor[i]!;
      const placed = this.#attempt(k, place, arrival, latestEnd);
      if (placed && this.#remediesNeeded()) return true;
      this.#unplaceDownTo(k, stage.opsFrom, stage.opsTo);
      const lapsed = this.#lapsed as LagModel | null;
      if (lapsed === null) break;
      for (const remedy of lapsed.remedy) this.#present[remedy] = 1;
      this.#remedied.push(lapsed);
    }
    this.#pinnedAir(k, -1);
    this.#forgetRemedies();
    return false;
  }

  /** Whether what is pinned can stay as it is, which is taken into account from here on. */
  #pinnedKept(k: number, place: number, arrival: number, latestEnd: number): boolean {
    if (!this.#pinnedFit(k, place, arrival, latestEnd) || !this.#pinnedAirClear(k)) return false;
    if (!this.#pinnedLagsKept(k)) {
      this.#forgetRemedies();
      return false;
    }
    this.#pinnedAir(k, 1);
    return true;
  }

  /** Forgets the stage's work, and the move into it, again. */
  clear(k: number): void {
    const stage = this.#job.stages[k]!;
    this.#unplaceDownTo(k, stage.opsFrom, stage.opsTo);
    this.#pinnedAir(k, -1);
    this.#forgetRemedies();
    this.clearMove(k);
  }

  /** Forgets the move into the stage, where its work found no time. */
  clearMove(k: number): void {
    const { move } = this.#job.stages[k]!;
    if (move >= 0) this.#unplace(move);
  }

  /** Takes the move into a stage into account. */
  takeMove(move: number, start: number, end: number, mode: number): void {
    this.#plan.start[move] = start;
    this.#plan.end[move] = end;
    this.#plan.mode[move] = mode;
    this.#fit.push(this.#job, move, this.#plan);
  }

  #attempt(k: number, place: number, arrival: number, latestEnd: number): boolean {
    const { operations, stages } = this.#job;
    const { opsFrom, opsTo, move } = stages[k]!;
    let shifts = 0;
    for (let i = opsFrom; i < opsTo; ) {
      if (i === move || this.#present[i] === 0 || operations[i]!.fixing === 'pinned') {
        i++;
        continue;
      }
      const goOn = this.#placeOne(k, i, place, arrival, operations[i]!.inStay ? latestEnd : this.#book.shop.horizon);
      if (goOn < 0) return false;
      if (goOn <= i) {
        if (++shifts > MOST_SHIFTS) return false;
        this.#unplaceDownTo(k, goOn, i + 1);
      }
      i = goOn;
    }
    return true;
  }

  /** Places operation `i`; returns i + 1, or the operation to go back to, or -1 when the stage must be given up. */
  #placeOne(k: number, i: number, place: number, arrival: number, latestEnd: number): number {
    const job = this.#job;
    const plan = this.#plan;
    const fit = this.#fit;
    const window = this.#window;
    const operation = job.operations[i]!;
    this.#readWindow(k, i, arrival);
    const within = Math.min(latestEnd, operation.deadline, this.#book.shop.horizon);
    const limit = this.#latestEnd(i);
    // What must follow it in the stay has to end in time as well.
    const tail = operation.inStay ? job.stages[k]!.tails[i - job.stages[k]!.opsFrom]! : 0;
    const by = Math.min(within, limit, latestEnd - tail);
    const last = Math.min(NEVER, this.limit.latestPickup - job.toPickup.fromStart[i]!);
    const crew = crewFor(fit, job, plan, this.#present, i, place, window, by);
    const { earliest, earliestEnd, latestStart } = window;
    let found = fit.find(operation, place, earliest, earliestEnd, last, by, crew);
    if (found && (fit.start > latestStart || fit.end > window.latestEnd)) {
      // Another mode may end later and yet keep the window.
      found = fit.find(operation, place, earliest, earliestEnd, latestStart, Math.min(by, window.latestEnd), crew);
      if (!found) {
        fit.find(operation, place, earliest, earliestEnd, last, by, crew);
        return this.#pushBackFor(k, i);
      }
    }
    if (!found) {
      if (limit < within || last < within) this.limited = true;
      return this.#giveUp(k, i, latestEnd);
    }
    plan.start[i] = fit.start;
    plan.end[i] = fit.end;
    plan.mode[i] = fit.mode;
    const passable = this.#passableFrom(i, place, fit.start, fit.end);
    if (passable >= 0) {
      plan.mode[i] = -1;
      return this.#push(k, i, passable);
    }
    fit.push(job, i, plan);
    for (const link of operation.crews) {
      const busyUntil = gapBusyUntil(this.#book, job, plan, link);
      if (busyUntil < 0) continue;
      this.#unplaceBare(i);
      return this.#push(k, link.first, busyUntil);
    }
    for (const span of operation.spans) {
      const excess = airExcess(this.#book, plan, span);
      if (excess <= 0) continue;
      const zone = this.#book.shop.places[place]?.zone ?? -1;
      this.blocked = { job: job.index, operation: operation.index, obstacle: 'air', index: zone };
      this.airDelayed = true;
      this.#unplaceBare(i);
      return this.#push(k, span.from, plan.start[span.from]! + excess);
    }
    for (const link of operation.crews) this.#book.useGap(job, link, plan, 1);
    for (const span of operation.spans) this.#book.useAir(span, plan, 1);
    return i + 1;
  }

  /** The latest end of `i` that could still keep to the limit. */
  #latestEnd(i: number): number {
    const { arrival, toPickup, toReady } = this.#job;
    let by = this.limit.latestPickup - toPickup.fromEnd[i]!;
    if (this.limit.mostLead < NEVER) {
      const came = arrival >= 0 && this.#plan.mode[arrival]! >= 0 ? this.#plan.start[arrival]! : this.dropOff;
      if (came >= 0) by = Math.min(by, came + this.limit.mostLead - toReady.fromEnd[i]!);
    }
    return Math.min(NEVER, by);
  }

  /** Reads when `i` may start and end, from its lags, its stay, and what a handover must wait for. */
  #readWindow(k: number, i: number, arrival: number): void {
    const job = this.#job;
    const plan = this.#plan;
    const operation = job.operations[i]!;
    const stage = job.stages[k]!;
    let earliest = Math.max(this.#pushed[i]!, operation.release, this.#book.shop.now, operation.fixedStart);
    if (operation.inStay || stage.stay < 0) earliest = Math.max(earliest, arrival);
    if (operation.inStay && job.arrival >= 0 && i !== job.arrival && job.operations[job.arrival]!.stage === k) {
      earliest = Math.max(earliest, plan.start[job.arrival]!);
    }
    const window = this.#window;
    window.read(job, plan, this.#present, i, earliest);
    if (operation.fixing === 'start') window.latestStart = Math.min(window.latestStart, operation.fixedStart);
    if (i !== job.handover) return;
    for (let other = stage.opsFrom; other < stage.opsTo; other++) {
      if (other === i || other === stage.move || plan.mode[other]! < 0 || !job.operations[other]!.inStay) continue;
      window.earliestEnd = Math.max(window.earliestEnd, plan.end[other]!);
    }
    for (const still of job.stills) {
      if (plan.mode[still.from]! < 0 || plan.mode[still.to]! < 0) continue;
      window.earliest = Math.max(window.earliest, plan.edge(still.to, still.toEnd));
    }
  }

  #giveUp(k: number, i: number, latestEnd: number): number {
    const operation = this.#job.operations[i]!;
    // Whatever stood in the way last, what ended the search is the end of the gap when there is one.
    const gap = operation.inStay && latestEnd < this.#book.shop.horizon && latestEnd <= operation.deadline;
    this.blocked = {
      job: this.#job.index,
      operation: operation.index,
      obstacle: gap ? 'place' : this.#fit.obstacle,
      index: gap ? this.#job.stages[k]!.stay : this.#fit.obstacleIndex,
    };
    return -1;
  }

  /** A maximum lag is overrun by what the fit found: push back the operation it is counted from, or give way to its remedy. */
  #pushBackFor(k: number, i: number): number {
    const plan = this.#plan;
    const fit = this.#fit;
    const operation = this.#job.operations[i]!;
    let culprit = -1;
    let excess = 0;
    let overrun: LagModel | null = null;
    for (const lag of operation.lags) {
      const comes = lag.to === i;
      const other = comes ? lag.from : lag.to;
      if (other === i || plan.mode[other]! < 0) continue;
      const at = plan.edge(other, comes ? lag.fromEnd : lag.toEnd);
      const mine = (comes ? lag.toEnd : lag.fromEnd) ? fit.end : fit.start;
      const bounded = lag.max < NEVER && !isRemedied(lag, this.#present);
      const over = comes ? (bounded ? mine - at - lag.max : 0) : mine + lag.min - at;
      if (over <= excess) continue;
      excess = over;
      culprit = other;
      overrun = comes ? lag : null;
    }
    const { opsFrom } = this.#job.stages[k]!;
    if (overrun !== null && overrun.remedy.length > 0) {
      if (noneBefore(overrun.remedy, opsFrom)) this.#lapsed ??= overrun;
      else if (this.#job.operations[culprit]!.fixing !== 'open') this.earlierRemedy ??= overrun;
    }
    this.blocked = {
      job: this.#job.index,
      operation: operation.index,
      obstacle: overrun === null ? fit.obstacle : 'lag',
      index: overrun === null ? fit.obstacleIndex : overrun.index,
    };
    return culprit < 0 ? -1 : this.#push(k, culprit, plan.start[culprit]! + excess);
  }

  /** Sets the earliest start of `culprit`, if it may be pushed at all; returns where to go on, or -1. */
  #push(k: number, culprit: number, earliest: number): number {
    const stage = this.#job.stages[k]!;
    if (this.#job.operations[culprit]!.fixing !== 'open' || earliest >= NEVER) return -1;
    if (culprit < stage.opsFrom || culprit === stage.move) {
      this.earlierOperation = culprit;
      this.earlierFloor = earliest;
      return -1;
    }
    this.#pushed[culprit] = Math.max(this.#pushed[culprit]! + 1, earliest);
    return culprit;
  }

  /** For a drop-off or handover past a tandem place: the earliest start at which that place is empty; -1 when it is. */
  #passableFrom(i: number, place: number, start: number, end: number): number {
    if (place < 0 || (i !== this.#job.handover && i !== this.#job.arrival)) return -1;
    const at = i === this.#job.handover ? end : start;
    const until = passageUntil(this.#book, place, at);
    return until < 0 ? -1 : start + until - at;
  }

  /** Whether what is pinned to this stay can lie in it. */
  #pinnedFit(k: number, place: number, arrival: number, latestEnd: number): boolean {
    const stage = this.#job.stages[k]!;
    for (let i = stage.opsFrom; i < stage.opsTo; i++) {
      const operation = this.#job.operations[i]!;
      if (operation.fixing !== 'pinned' || operation.fact || !operation.inStay) continue;
      const { fixedStart, fixedEnd, fixedMode } = operation;
      const { places } = operation.modes[fixedMode]!;
      const fits =
        fixedStart >= arrival &&
        fixedEnd <= latestEnd &&
        this.#passableFrom(i, place, fixedStart, fixedEnd) < 0 &&
        (places === null || place < 0 || places[place] === 1);
      if (fits) continue;
      this.blocked = { job: this.#job.index, operation: operation.index, obstacle: 'fixed', index: operation.index };
      return false;
    }
    return true;
  }

  /** Whether lags between two pinned operations are kept, those with a remedy by putting it in. Two facts are not judged. */
  #pinnedLagsKept(k: number): boolean {
    const { operations, lags, index } = this.#job;
    for (const lag of lags) {
      const from = operations[lag.from]!;
      const to = operations[lag.to]!;
      if (to.stage !== k || from.fixing !== 'pinned' || to.fixing !== 'pinned' || (from.fact && to.fact)) continue;
      const apart = this.#plan.edge(lag.to, lag.toEnd) - this.#plan.edge(lag.from, lag.fromEnd);
      if (apart > lag.max && lag.remedy.length > 0) {
        for (const remedy of lag.remedy) this.#present[remedy] = 1;
        this.#remedied.push(lag);
      } else if (apart > lag.max || apart < lag.min) {
        this.blocked = { job: index, operation: to.index, obstacle: 'fixed', index: to.index };
        return false;
      }
    }
    return true;
  }

  /** Whether frozen spans of this stay keep clear of the other air: they cannot give way. */
  #pinnedAirClear(k: number): boolean {
    const { operations, spans, index } = this.#job;
    for (const span of spans) {
      const from = operations[span.from]!;
      if (span.stage !== k || from.fixing !== 'pinned' || operations[span.to]!.fixing !== 'pinned') continue;
      if (airExcess(this.#book, this.#plan, span) === 0) continue;
      this.blocked = { job: index, operation: from.index, obstacle: 'fixed', index: from.index };
      return false;
    }
    return true;
  }

  /** Spans of this stay that begin and end with pinned work are in nobody's hands: they are there before all else. */
  #pinnedAir(k: number, sign: number): void {
    const { operations, spans, fixed } = this.#job;
    if (!fixed) return;
    for (const span of spans) {
      if (span.stage !== k) continue;
      if (operations[span.from]!.fixing !== 'pinned' || operations[span.to]!.fixing !== 'pinned') continue;
      this.#book.useAir(span, this.#plan, sign);
    }
  }

  /** Whether each remedy that has been put in makes good a lag that is overrun. */
  #remediesNeeded(): boolean {
    for (const lag of this.#remedied) if (!hasLapsed(lag, this.#plan)) return false;
    return true;
  }

  #forgetRemedies(): void {
    if (this.#remedied.length === 0) return;
    for (const lag of this.#remedied) {
      for (const remedy of lag.remedy) {
        if (this.#job.operations[remedy]!.fixing !== 'pinned') this.#present[remedy] = 0;
      }
    }
    this.#remedied = [];
  }

  #unplaceDownTo(k: number, from: number, to: number): void {
    const { move } = this.#job.stages[k]!;
    for (let i = to - 1; i >= from; i--) if (i !== move) this.#unplace(i);
  }

  #unplace(i: number): void {
    const operation = this.#job.operations[i]!;
    if (this.#plan.mode[i]! < 0 || operation.fixing === 'pinned') return;
    for (const link of operation.crews) this.#book.useGap(this.#job, link, this.#plan, -1);
    for (const span of operation.spans) this.#book.useAir(span, this.#plan, -1);
    this.#unplaceBare(i);
  }

  #unplaceBare(i: number): void {
    this.#fit.pop(this.#job, i, this.#plan);
    this.#plan.mode[i] = -1;
  }
}

/** Whether none of some operations comes before operation `first` in planning order. */
function noneBefore(operations: readonly number[], first: number): boolean {
  for (const i of operations) if (i < first) return false;
  return true;
}
