import { NEVER } from '../calendar/never.ts';
import { WorkedPieces } from '../calendar/worked-pieces.ts';
import type { Book } from './book.ts';
import type { JobModel, ModeModel, OperationModel } from './job-model.ts';
import type { JobPlan } from './job-plan.ts';
import { OwnWork } from './own-work.ts';

/** Any crew will do. */
export const ANY_CREW = -1;

const NO_MODES: readonly number[] = [];

/** Chances taken on purpose, so that a search that repeats an insertion sees something else. */
export interface Noise {
  /** Whether to pass over a candidate that would do. */
  passOver(): boolean;
}

export const NO_NOISE: Noise = { passOver: () => false };

export type Obstacle = 'calendar' | 'resource' | 'budget' | 'window' | 'mode';

/**
 * Finds the earliest time an operation fits what is left of people, equipment, budgets and conditions. The answer
 * is in `start`, `end` and `mode`; when there is none, what stood in the way last is in `obstacle` and `obstacleIndex`.
 */
export class EarliestFit {
  readonly #book: Book;
  readonly #pieces = new WorkedPieces();
  start = 0;
  end = 0;
  mode = -1;
  obstacle: Obstacle = 'mode';
  obstacleIndex = -1;
  /** Units of search work: candidate starts looked at. */
  work = 0;
  overtimeAllowed = true;
  noise: Noise = NO_NOISE;
  #question = 0;
  /** By pattern, the question it was last looked at for, and the earliest start found then. */
  #asked = new Int32Array(0);
  #opens = new Int32Array(0);
  #triedStart = 0;
  #triedEnd = 0;
  readonly #own: OwnWork;

  constructor(book: Book) {
    this.#book = book;
    this.#own = new OwnWork(book);
  }

  /**
   * The mode that ends first, starting at or after `earliest`, no later than `latestStart`, ending in
   * [earliestEnd, latestEnd]; in `place` (-1: nowhere in particular), by `crew`.
   */
  find(
    operation: OperationModel,
    place: number,
    earliest: number,
    earliestEnd: number,
    latestStart: number,
    latestEnd: number,
    crew: number,
  ): boolean {
    this.mode = -1;
    this.obstacle = 'mode';
    this.#begin();
    let limit = latestEnd;
    const ofCrew = crew === ANY_CREW ? null : (operation.byCrew.get(crew) ?? NO_MODES);
    const modes = ofCrew === null ? operation.modes.length : ofCrew.length;
    for (let k = 0; k < modes; k++) {
      const m = ofCrew === null ? k : ofCrew[k]!;
      const mode = operation.modes[m]!;
      if (place >= 0 && mode.places !== null && mode.places[place] === 0) continue;
      if (operation.fixedMode >= 0 && operation.fixedMode !== m) continue;
      if (!this.#tryMode(operation, mode, earliest, earliestEnd, latestStart, limit)) continue;
      if (this.mode >= 0 && this.#triedEnd === this.end && this.#triedStart <= this.start) continue;
      if (this.mode < 0 && m + 1 < operation.modes.length && this.noise.passOver()) continue;
      this.start = this.#triedStart;
      this.end = this.#triedEnd;
      this.mode = m;
      // From here on a mode must end sooner; or as soon after fewer pauses, which leaves a person more free time.
      limit = operation.pausable ? this.#triedEnd : this.#triedEnd - 1;
      if (this.end <= earliest + operation.leastMinutes) break;
    }
    return this.mode >= 0;
  }

  /** Takes what one placed operation uses into account from here on. */
  push(job: JobModel, i: number, plan: JobPlan): void {
    this.#own.push(job, i, plan);
  }

  /** Undoes the last `push`, which must have been of operation `i`. */
  pop(job: JobModel, i: number, plan: JobPlan): void {
    this.#own.pop(job, i, plan);
  }

  /** The earliest start and the earliest end any of `modes` allows from `earliest` on, each by itself, in `start` and `end`. */
  soonest(operation: OperationModel, modes: readonly ModeModel[], earliest: number): void {
    this.start = NEVER;
    this.end = NEVER;
    this.#begin();
    for (const mode of modes) {
      if (!this.#tryMode(operation, mode, earliest, 0, NEVER, NEVER)) continue;
      this.start = Math.min(this.start, this.#triedStart);
      this.end = Math.min(this.end, this.#triedEnd);
    }
  }

  #tryMode(
    operation: OperationModel,
    mode: ModeModel,
    earliest: number,
    earliestEnd: number,
    latestStart: number,
    latestEnd: number,
  ): boolean {
    let start = this.#firstStart(operation, mode, earliest, earliestEnd);
    for (;;) {
      this.work++;
      if (start > latestStart || start + mode.leastMinutes > latestEnd) {
        if (start > earliest)
          this.#blame(operation.startIn !== null || mode.allowed !== null ? 'window' : 'calendar', -1);
        return false;
      }
      const from = this.#nextStart(operation, mode, start, earliestEnd);
      if (from > latestStart || from + mode.leastMinutes > latestEnd) {
        if (from > start) this.#blame(operation.startIn !== null || mode.allowed !== null ? 'window' : 'calendar', -1);
        return false;
      }
      if (from > start) {
        start = from;
        continue;
      }
      const pieces = this.#pieces;
      const end = pieces.ofWork(mode.calendar, mode.budget, start, mode.work, latestEnd);
      if (end > latestEnd) {
        this.#blame('calendar', -1);
        return false;
      }
      const next = this.#obstruction(operation, mode, start, end, earliestEnd);
      if (next < 0) {
        this.#triedStart = start;
        this.#triedEnd = end;
        return true;
      }
      if (next >= NEVER) return false;
      start = next;
    }
  }

  /** Forgets what is known of patterns from another question. */
  #begin(): void {
    this.#question++;
    if (this.#asked.length >= this.#book.shop.patterns) return;
    this.#asked = new Int32Array(2 * this.#book.shop.patterns);
    this.#opens = new Int32Array(2 * this.#book.shop.patterns);
  }

  /** The earliest start that the hours allow, found once for all modes of one pattern. */
  #firstStart(operation: OperationModel, mode: ModeModel, earliest: number, earliestEnd: number): number {
    const { pattern } = mode;
    if (this.#asked[pattern] !== this.#question) {
      this.#asked[pattern] = this.#question;
      this.#opens[pattern] = this.#openFrom(operation, mode, earliest, earliestEnd);
    }
    return this.#opens[pattern]!;
  }

  /** The earliest start at or after `start` that the calendar and the hours allow, not yet looking at who is free. */
  #openFrom(operation: OperationModel, mode: ModeModel, start: number, earliestEnd: number): number {
    let from = operation.startIn === null ? start : operation.startIn.nextInside(start);
    if (mode.allowed !== null) from = mode.allowed.nextInside(from);
    if (mode.work === 0) return Math.max(from, earliestEnd);
    if (earliestEnd > from + mode.leastMinutes && mode.budget === null) {
      from = Math.max(from, mode.calendar.latestStart(earliestEnd - 1, mode.work) + 1);
    }
    if (from >= NEVER) return NEVER;
    return operation.pausable ? mode.calendar.nextOpen(from) : mode.calendar.nextUnbroken(from, mode.work);
  }

  /** The same, with everybody free at least for the first piece of the work. */
  #nextStart(operation: OperationModel, mode: ModeModel, start: number, earliestEnd: number): number {
    let from = this.#openFrom(operation, mode, start, earliestEnd);
    if (mode.work === 0 || from >= NEVER) return from;
    // The first piece at least is worked without a break.
    const least = operation.pausable
      ? Math.max(1, Math.min(operation.leastFirstPiece, mode.leastMinutes))
      : mode.leastMinutes;
    for (let u = 0; u < mode.resources.length; u++) {
      const row = mode.resources[u]!;
      const free = this.#book.levels.nextRoom(
        row,
        from,
        least,
        this.#book.shop.resources[row]!.capacity - mode.amounts[u]!,
      );
      if (free > from) {
        from = free;
        this.#blame('resource', row);
      }
    }
    return from;
  }

  /** -1 when [start, end) with the pieces at hand will do; otherwise the earliest start that might. */
  #obstruction(operation: OperationModel, mode: ModeModel, start: number, end: number, earliestEnd: number): number {
    if (end < earliestEnd) return start + 1;
    if (mode.allowed !== null && !mode.allowed.encloses(start, end)) {
      this.#blame('window', -1);
      return mode.allowed.nextFrom(start);
    }
    const { from, to, count } = this.#pieces;
    if (!operation.pausable && count > 1) {
      this.#blame('budget', -1);
      return from[1]!;
    }
    if (count > 1 && to[0]! - from[0]! < operation.leastFirstPiece) return from[1]!;
    for (let k = 1; k < count; k++) if (from[k]! - to[k - 1]! > operation.longestPause) return from[k]!;
    let next = -1;
    for (let u = 0; u < mode.resources.length; u++) {
      const row = mode.resources[u]!;
      const resource = this.#book.shop.resources[row]!;
      const room = resource.capacity - mode.amounts[u]!;
      for (let k = count - 1; k >= 0; k--) {
        const taken = this.#book.levels.lastAbove(row, from[k]!, to[k]!, room);
        const above = this.#own.isEmpty ? taken : Math.max(taken, this.#own.busyUntil(row, from[k]!, to[k]!, room));
        const overtime =
          this.overtimeAllowed || resource.overtime === null ? -1 : resource.overtime.lastMeeting(from[k]!, to[k]!);
        const free = Math.max(above, overtime);
        if (free < 0) continue;
        this.#blame('resource', row);
        next = Math.max(next, free);
        break;
      }
    }
    return mode.budget === null ? next : Math.max(next, this.#overdrawn(mode));
  }

  /** The earliest start that leaves no more work to any window than its budget still has; -1 when that is so already. */
  #overdrawn(mode: ModeModel): number {
    const { from, to, count } = this.#pieces;
    const budget = mode.budget!;
    let next = -1;
    for (let w = budget.windowAt(from[0]!); w < budget.from.length && budget.from[w]! < to[count - 1]!; w++) {
      let minutes = 0;
      for (let k = 0; k < count; k++) {
        minutes += Math.max(0, Math.min(to[k]!, budget.to[w]!) - Math.max(from[k]!, budget.from[w]!));
      }
      const left = Math.max(0, budget.limit - this.#book.drawn[budget.firstCounter + w]!);
      if (minutes <= left) continue;
      this.#blame('budget', -1);
      next = Math.max(next, mode.calendar.minuteWorked(mode.calendar.minutesAt(budget.to[w]!) - left));
    }
    // The minute found may be the very start of a closed time that precedes the work: never stand still.
    return next < 0 ? -1 : Math.max(next, from[0]! + 1);
  }

  #blame(obstacle: Obstacle, index: number): void {
    this.obstacle = obstacle;
    this.obstacleIndex = index;
  }
}
