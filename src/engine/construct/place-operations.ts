import { NEVER } from '../calendar/never.ts';
import type { Blocked } from './blocked.ts';
import type { Book } from './book.ts';
import { ANY_CREW, type EarliestFit } from './earliest-fit.ts';
import type { JobModel, LagModel, OperationModel, SpanModel } from './job-model.ts';
import type { JobPlan } from './job-plan.ts';

/** How often operations of one stage may be pushed back before the place is given up. */
const MOST_SHIFTS = 60;

/**
 * Places the operations of one stay, earliest first along their lags. Where a maximum lag, an air rule or a kept crew
 * cannot be met, the operation it began with is pushed back by the excess and everything after it placed anew, so
 * that a tied block moves as one; where it cannot be pushed, the lag's remedy is put in.
 *
 * What is placed is taken in the book until `clear`.
 */
export class OperationPlacer {
  readonly #book: Book;
  readonly #fit: EarliestFit;
  job!: JobModel;
  plan!: JobPlan;
  /** By operation, 1 when it is to be placed. */
  present!: Uint8Array;
  /** By operation, the earliest start learnt from maximum lags that reach back into earlier stays. */
  floor!: Int32Array;
  #pushed = new Int32Array(64);
  #shifts = 0;
  #lapsed: LagModel | null = null;
  /** The operation of an earlier stay that should have started later, and when; -1 when that was not the trouble. */
  earlierOperation = -1;
  earlierFloor = 0;
  blocked: Blocked | null = null;
  /** Whether other air has put something off in the stage placed last. */
  airDelayed = false;

  constructor(book: Book, fit: EarliestFit) {
    this.#book = book;
    this.#fit = fit;
  }

  begin(job: JobModel, plan: JobPlan, present: Uint8Array, floor: Int32Array): void {
    this.job = job;
    this.plan = plan;
    this.present = present;
    this.floor = floor;
    if (this.#pushed.length < job.operations.length) this.#pushed = new Int32Array(job.operations.length * 2);
  }

  /** Places everything of stage `k` but its move, within [arrival, latestEnd) at `place`; nothing stays placed on failure. */
  placeStage(k: number, place: number, arrival: number, latestEnd: number): boolean {
    this.earlierOperation = -1;
    this.airDelayed = false;
    const stage = this.job.stages[k]!;
    if (!this.#pinnedFit(k, place, arrival, latestEnd)) return false;
    this.#pinnedAir(k, 1);
    const remedied: LagModel[] = [];
    for (;;) {
      this.#lapsed = null;
      this.#shifts = 0;
      for (let i = stage.opsFrom; i < stage.opsTo; i++) this.#pushed[i] = this.floor[i]!;
      if (this.#attempt(k, place, arrival, latestEnd) && remedied.every((lag) => this.#hasLapsed(lag))) return true;
      this.#unplaceDownTo(k, stage.opsFrom, stage.opsTo);
      const lapsed = this.#lapsed as LagModel | null;
      if (lapsed === null) break;
      for (const remedy of lapsed.remedy) this.present[remedy] = 1;
      remedied.push(lapsed);
    }
    this.#pinnedAir(k, -1);
    for (const lag of remedied) {
      for (const remedy of lag.remedy) if (this.job.operations[remedy]!.fixing !== 'pinned') this.present[remedy] = 0;
    }
    return false;
  }

  /** Takes the stage's work, and the move into it, out of the book again; times stay readable in the plan. */
  clear(k: number): void {
    const stage = this.job.stages[k]!;
    this.#unplaceDownTo(k, stage.opsFrom, stage.opsTo);
    this.#pinnedAir(k, -1);
    this.clearMove(k);
  }

  /** Takes the move into the stage out again, where its work found no time. */
  clearMove(k: number): void {
    const stage = this.job.stages[k]!;
    if (stage.move >= 0) this.#unplace(stage.move);
  }

  /** Places the move into stage `k`, at the times the fit has found. */
  takeMove(move: number): void {
    this.plan.start[move] = this.#fit.start;
    this.plan.end[move] = this.#fit.end;
    this.plan.mode[move] = this.#fit.mode;
    this.#fit.push(this.job, move, this.plan);
  }

  #attempt(k: number, place: number, arrival: number, latestEnd: number): boolean {
    const { job } = this;
    const stage = job.stages[k]!;
    let i = stage.opsFrom;
    while (i < stage.opsTo) {
      const operation = job.operations[i]!;
      if (i === stage.move || this.present[i] === 0 || operation.fixing === 'pinned') {
        i++;
        continue;
      }
      const back = this.#placeOne(
        k,
        i,
        operation,
        place,
        arrival,
        operation.inStay ? latestEnd : this.#book.shop.horizon,
      );
      if (back < 0) return false;
      if (back > i) {
        i++;
        continue;
      }
      if (++this.#shifts > MOST_SHIFTS) return false;
      this.#unplaceDownTo(k, back, i + 1);
      i = back;
    }
    return true;
  }

  /** Places operation `i`; returns i + 1, or the operation to go back to, or -1 when the stage must be given up. */
  #placeOne(
    k: number,
    i: number,
    operation: OperationModel,
    place: number,
    arrival: number,
    latestEnd: number,
  ): number {
    const { job, plan } = this;
    const fit = this.#fit;
    this.#readWindow(i, operation, k, arrival);
    const end = Math.min(latestEnd, operation.deadline, this.#book.shop.horizon);
    const crew = this.#crewFor(i, operation, place, end);
    if (operation.fixing === 'start') this.#latestStart = Math.min(this.#latestStart, operation.fixedStart);
    let found = fit.find(operation, place, this.#earliest, this.#earliestEnd, NEVER, end, crew);
    if (found && (fit.start > this.#latestStart || fit.end > this.#latestEnd)) {
      found = fit.find(
        operation,
        place,
        this.#earliest,
        this.#earliestEnd,
        this.#latestStart,
        Math.min(end, this.#latestEnd),
        crew,
      );
      if (!found) {
        fit.find(operation, place, this.#earliest, this.#earliestEnd, NEVER, end, crew);
        return this.#pushBackFor(k, i, operation);
      }
    }
    if (!found) {
      // Whatever stood in the way last, what ended the search is the end of the gap when there is one.
      const gap = operation.inStay && latestEnd < this.#book.shop.horizon && latestEnd <= operation.deadline;
      this.blocked = {
        job: job.index,
        operation: operation.index,
        obstacle: gap ? 'place' : fit.obstacle,
        index: gap ? job.stages[k]!.stay : fit.obstacleIndex,
      };
      return -1;
    }
    plan.start[i] = fit.start;
    plan.end[i] = fit.end;
    plan.mode[i] = fit.mode;
    const passable = this.#passage(i, place, fit.start, fit.end);
    if (passable >= 0) {
      plan.mode[i] = -1;
      return this.#push(k, i, passable);
    }
    fit.push(job, i, plan);
    for (const link of operation.crews) {
      const busyUntil = this.#gapBusyUntil(link.first, link.second, link.held);
      if (busyUntil >= 0) {
        this.#unplaceBare(i);
        return this.#push(k, link.first, busyUntil);
      }
    }
    for (const span of operation.spans) {
      const excess = this.#airExcess(span);
      if (excess > 0) {
        this.airDelayed = true;
        this.#unplaceBare(i);
        return this.#push(k, span.from, (span.from === i ? fit.start : plan.start[span.from]!) + excess);
      }
    }
    for (const link of operation.crews) this.#book.useGap(job, link, plan, 1);
    for (const span of operation.spans) this.#book.useAir(span, plan, 1);
    return i + 1;
  }

  #earliest = 0;
  #earliestEnd = 0;
  #latestStart = 0;
  #latestEnd = 0;

  /** Reads from the lags to everything placed already when `i` may start and end. */
  #readWindow(i: number, operation: OperationModel, k: number, arrival: number): void {
    const { job, plan } = this;
    let earliest = Math.max(this.#pushed[i]!, operation.release, this.#book.shop.now, operation.fixedStart);
    let earliestEnd = 0;
    let latestStart = NEVER;
    let latestEnd = NEVER;
    if (operation.inStay || job.stages[k]!.stay < 0) earliest = Math.max(earliest, arrival);
    if (operation.inStay && job.arrival >= 0 && i !== job.arrival && job.operations[job.arrival]!.stage === k) {
      earliest = Math.max(earliest, plan.start[job.arrival]!);
    }
    for (const lag of operation.lags) {
      const comes = lag.to === i;
      const other = comes ? lag.from : lag.to;
      if (other === i || plan.mode[other]! < 0) continue;
      const at = plan.edge(other, comes ? lag.fromEnd : lag.toEnd);
      const bounded = lag.max < NEVER && !this.#isRemedied(lag);
      const low = comes ? at + lag.min : bounded ? at - lag.max : 0;
      const high = comes ? (bounded ? at + lag.max : NEVER) : at - lag.min;
      if (comes ? lag.toEnd : lag.fromEnd) {
        earliestEnd = Math.max(earliestEnd, low);
        latestEnd = Math.min(latestEnd, high);
      } else {
        earliest = Math.max(earliest, low);
        latestStart = Math.min(latestStart, high);
      }
    }
    if (i === job.handover) {
      const stage = job.stages[k]!;
      for (let o = stage.opsFrom; o < stage.opsTo; o++) {
        if (o !== i && o !== stage.move && plan.mode[o]! >= 0 && job.operations[o]!.inStay)
          earliestEnd = Math.max(earliestEnd, plan.end[o]!);
      }
      for (const still of job.stills) {
        if (plan.mode[still.from]! >= 0 && plan.mode[still.to]! >= 0)
          earliest = Math.max(earliest, plan.edge(still.to, still.toEnd));
      }
    }
    this.#earliest = earliest;
    this.#earliestEnd = earliestEnd;
    this.#latestStart = latestStart;
    this.#latestEnd = latestEnd;
  }

  /** The crew `i` is bound to; for the first of a tied pair, the one whose second operation would end first. */
  #crewFor(i: number, operation: OperationModel, place: number, latestEnd: number): number {
    const { job, plan } = this;
    const fit = this.#fit;
    for (const link of operation.crews) {
      const other = link.first === i ? link.second : link.first;
      if (plan.mode[other]! >= 0) return job.operations[other]!.modes[plan.mode[other]!]!.crew;
    }
    const link = operation.crews.find((each) => each.first === i && this.present[each.second] === 1);
    if (link === undefined || operation.modes.length === 1) return ANY_CREW;
    const second = job.operations[link.second]!;
    let best = ANY_CREW;
    let bestEnd = NEVER;
    for (let m = 0; m < operation.modes.length; m++) {
      const crew = operation.modes[m]!.crew;
      if (!fit.find(operation, place, this.#earliest, this.#earliestEnd, this.#latestStart, latestEnd, crew)) continue;
      let after = fit.end;
      for (const lag of second.lags) {
        if (lag.from === i && lag.to === link.second && !lag.toEnd)
          after = Math.max(after, (lag.fromEnd ? fit.end : fit.start) + lag.min);
      }
      if (!fit.find(second, place, after, 0, NEVER, latestEnd, crew) || fit.end >= bestEnd) continue;
      bestEnd = fit.end;
      best = crew;
    }
    return best;
  }

  /** A maximum lag is overrun by what the fit found: push back the operation it is counted from, or give way to its remedy. */
  #pushBackFor(k: number, i: number, operation: OperationModel): number {
    const { plan } = this;
    const fit = this.#fit;
    let culprit = -1;
    let excess = 0;
    let worst: LagModel | null = null;
    for (const lag of operation.lags) {
      const comes = lag.to === i;
      const other = comes ? lag.from : lag.to;
      if (other === i || plan.mode[other]! < 0) continue;
      const at = plan.edge(other, comes ? lag.fromEnd : lag.toEnd);
      const mine = (comes ? lag.toEnd : lag.fromEnd) ? fit.end : fit.start;
      const over = comes ? (lag.max < NEVER && !this.#isRemedied(lag) ? mine - at - lag.max : 0) : mine + lag.min - at;
      if (over <= excess) continue;
      excess = over;
      culprit = other;
      worst = comes ? lag : null;
    }
    if (
      worst !== null &&
      worst.remedy.length > 0 &&
      worst.remedy.every((remedy) => remedy >= this.job.stages[k]!.opsFrom)
    ) {
      this.#lapsed ??= worst;
    }
    this.blocked = {
      job: this.job.index,
      operation: operation.index,
      obstacle: worst === null ? fit.obstacle : 'lag',
      index: worst === null ? fit.obstacleIndex : worst.index,
    };
    if (culprit < 0) return -1;
    return this.#push(k, culprit, plan.start[culprit]! + excess);
  }

  /** Sets the earliest start of `culprit`, if it may be pushed at all; returns where to go on, or -1. */
  #push(k: number, culprit: number, earliest: number): number {
    const stage = this.job.stages[k]!;
    const operation = this.job.operations[culprit]!;
    if (operation.fixing !== 'open' || earliest >= NEVER) return -1;
    if (culprit < stage.opsFrom || culprit === stage.move) {
      this.earlierOperation = culprit;
      this.earlierFloor = earliest;
      return -1;
    }
    this.#pushed[culprit] = Math.max(this.#pushed[culprit]! + 1, earliest);
    return culprit;
  }

  /** Where a car drives in or out past a tandem place: the earliest start at which that place is empty; -1 when it is. */
  #passage(i: number, place: number, start: number, end: number): number {
    const { job } = this;
    if (place < 0 || (i !== job.handover && i !== job.arrival)) return -1;
    const at = i === job.handover ? end : start;
    for (const blocker of this.#book.shop.places[place]!.blockedBy) {
      const free = this.#book.levels.lastAbove(this.#book.shop.places[blocker]!.cars, at, at + 1, 0);
      if (free >= 0) return start + free - at;
    }
    return -1;
  }

  /** When both are placed and the crew is kept: the end of what else keeps it busy between them; -1 when nothing does. */
  #gapBusyUntil(first: number, second: number, held: boolean): number {
    const { job, plan } = this;
    if (!held || plan.mode[first]! < 0 || plan.mode[second]! < 0) return -1;
    const mode = job.operations[first]!.modes[plan.mode[first]!]!;
    const from = Math.max(plan.end[first]!, this.#book.shop.now);
    let until = -1;
    for (let u = 0; u < mode.resources.length; u++) {
      const resource = this.#book.shop.resources[mode.resources[u]!]!;
      if (!resource.person) continue;
      const room = resource.capacity - mode.amounts[u]!;
      until = Math.max(until, this.#book.levels.lastAbove(mode.resources[u]!, from, plan.start[second]!, room));
    }
    return until;
  }

  /** Minutes by which a span would have to begin later to keep clear of other air; 0 when it is clear. */
  #airExcess(span: SpanModel): number {
    const { job, plan } = this;
    const { levels } = this.#book;
    if (plan.mode[span.from]! < 0 || plan.mode[span.to]! < 0) return 0;
    const zone = plan.place[span.stage]! < 0 ? -1 : this.#book.shop.places[plan.place[span.stage]!]!.zone;
    if (zone < 0) return 0;
    const from = plan.edge(span.from, span.fromEnd);
    const to = plan.edge(span.to, span.toEnd);
    if (to <= from) return 0;
    let excess = 0;
    for (const rule of this.#book.shop.airRules(zone, span.label)) {
      const since = from - rule.settleBefore;
      const until = to + rule.settleAfter;
      const planned = levels.lastAbove(rule.planned, since, until, 0);
      const clear = span.begun ? planned : Math.max(planned, levels.lastAbove(rule.begun, since, until, 0));
      if (clear < 0) continue;
      excess = Math.max(excess, clear + rule.settleBefore - from);
      this.blocked = { job: job.index, operation: job.operations[span.from]!.index, obstacle: 'air', index: zone };
    }
    return excess;
  }

  /** Whether what is pinned to this stay can lie in it. */
  #pinnedFit(k: number, place: number, arrival: number, latestEnd: number): boolean {
    const stage = this.job.stages[k]!;
    for (let i = stage.opsFrom; i < stage.opsTo; i++) {
      const operation = this.job.operations[i]!;
      if (operation.fixing !== 'pinned' || operation.fact || !operation.inStay) continue;
      const mode = operation.modes[operation.fixedMode]!;
      const fits =
        operation.fixedStart >= arrival &&
        operation.fixedEnd <= latestEnd &&
        this.#passage(i, place, operation.fixedStart, operation.fixedEnd) < 0 &&
        (mode.places === null || place < 0 || mode.places[place] === 1);
      if (fits) continue;
      this.blocked = { job: this.job.index, operation: operation.index, obstacle: 'fixed', index: operation.index };
      return false;
    }
    return true;
  }

  /** Spans of this stay that begin and end with pinned work are in nobody's hands: they are there before all else. */
  #pinnedAir(k: number, sign: number): void {
    for (const span of this.job.spans) {
      if (span.stage !== k) continue;
      const { operations } = this.job;
      if (operations[span.from]!.fixing !== 'pinned' || operations[span.to]!.fixing !== 'pinned') continue;
      this.#book.useAir(span, this.plan, sign);
    }
  }

  #isRemedied(lag: LagModel): boolean {
    if (lag.remedy.length === 0) return false;
    for (const remedy of lag.remedy) if (this.present[remedy] === 0) return false;
    return true;
  }

  #hasLapsed(lag: LagModel): boolean {
    return this.plan.edge(lag.to, lag.toEnd) - this.plan.edge(lag.from, lag.fromEnd) > lag.max;
  }

  #unplaceDownTo(k: number, from: number, to: number): void {
    const move = this.job.stages[k]!.move;
    for (let i = to - 1; i >= from; i--) if (i !== move) this.#unplace(i);
  }

  #unplace(i: number): void {
    const operation = this.job.operations[i]!;
    if (this.plan.mode[i]! < 0 || operation.fixing === 'pinned') return;
    for (const link of operation.crews) this.#book.useGap(this.job, link, this.plan, -1);
    for (const span of operation.spans) this.#book.useAir(span, this.plan, -1);
    this.#unplaceBare(i);
  }

  #unplaceBare(i: number): void {
    this.#fit.pop(this.job, i, this.plan);
    this.plan.mode[i] = -1;
  }
}
