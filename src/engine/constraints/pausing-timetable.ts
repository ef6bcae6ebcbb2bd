import { WorkedPieces } from '../calendar/worked-pieces.ts';
import type { Bounds } from '../learn/bounds.ts';
import type { Explanation } from '../learn/explanation.ts';
import type { Propagator } from '../learn/propagator.ts';
import type { Solver } from '../learn/solver.ts';
import { PausingSpan } from './pausing-span.ts';
import { ALWAYS, type Task } from './task.ts';
import type { Taken } from './timetable.ts';
import { NO_END, type WorkSpan } from './work-span.ts';

/** A task that holds the resource only while its work is in progress, where its span pauses; else from start to end. */
export interface PausingTask extends Task {
  readonly span?: WorkSpan;
}

/** Whether a task is there. */
const ABSENT = 0;
const UNDECIDED = 1;
const PRESENT = 2;

/** Events of the profile carry their minute and their change of height in one number, so that sorting needs no pairs. */
const DELTA = 2 ** 21;

/**
 * Ensures that at no minute the tasks present hold more than the capacity left by what is taken, where work that pauses
 * frees the resource while it does.
 *
 * Work begun at its earliest covers, from its latest start on, the minutes that it covers whenever it begins: those of its
 * pieces. The sum of these sure pieces is the profile. A start whose pieces meet a minute without room is passed over, from
 * the left and from the right; a mode not yet chosen that does not fit where it surely works is refused. Explained at one
 * minute, as in `Timetable`, whose rule this is for work without pauses.
 *
 * Wakes when a bound of a task moves; O(p log p) for p pieces, and as many for the pushes over each segment without room.
 * Reference: Schutt, Feydy, Stuckey and Wallace, Constraints 16, 2011; calendars as in Kreter, Schutt and Stuckey,
 * Constraints 22, 2017 (resources released in breaks).
 */
export class PausingTimetable implements Propagator {
  private readonly solver: Solver;
  private readonly bounds: Bounds;
  private readonly explanation: Explanation;
  private readonly reason: number;
  private readonly tasks: readonly PausingTask[];
  private readonly spans: readonly (PausingSpan | null)[];
  private readonly capacity: number;
  private readonly taken: readonly Taken[];
  private readonly pieces = new WorkedPieces();
  private events = new Float64Array(64);
  private at = new Int32Array(64);
  private height = new Int32Array(64);
  private segments = 0;
  private readonly covering: Int32Array;
  private readonly minutes: number[] = [];
  private readonly slotOfMinute = new Map<number, number>();

  constructor(solver: Solver, tasks: readonly PausingTask[], capacity: number, taken: readonly Taken[]) {
    this.solver = solver;
    this.bounds = solver.bounds;
    this.explanation = solver.explanation;
    this.tasks = tasks.filter(({ amount }) => amount > 0);
    this.spans = this.tasks.map(({ span }) => (span instanceof PausingSpan ? span : null));
    this.capacity = capacity;
    this.taken = taken;
    this.covering = new Int32Array(this.tasks.length);
    this.reason = solver.addExplainer(this);
    const wakes: number[] = [];
    for (const t of this.tasks) {
      wakes.push(t.start, t.start ^ 1, t.end, t.end ^ 1);
      if (t.presence !== ALWAYS) wakes.push(t.presence);
    }
    solver.addPropagator(this, 1, wakes);
  }

  propagate(): boolean {
    if (!this.buildProfile()) return false;
    for (let i = 0; i < this.tasks.length; i++) if (!this.filter(i)) return false;
    return true;
  }

  private state(i: number): number {
    const p = this.tasks[i]!.presence;
    if (p === ALWAYS || this.bounds.lower[p]! >= 1 - (p & 1)) return PRESENT;
    return this.bounds.lower[p ^ 1]! >= (p & 1) ? ABSENT : UNDECIDED;
  }

  private earliest(i: number): number {
    return this.bounds.lower[this.tasks[i]!.start]!;
  }

  private latest(i: number): number {
    return -this.bounds.lower[this.tasks[i]!.start ^ 1]!;
  }

  /** The pieces of work begun at a minute; false when it cannot be begun there. */
  private writePieces(i: number, start: number): boolean {
    const { pieces } = this;
    const span = this.spans[i]!;
    if (span !== null) {
      if (span.next(start) !== start) return false;
      span.writePieces(start, pieces);
      return true;
    }
    const { end, endOffset } = this.tasks[i]!;
    pieces.from[0] = start;
    pieces.to[0] = this.bounds.lower[end]! + endOffset;
    pieces.count = pieces.to[0]! > start ? 1 : 0;
    return true;
  }

  /** The earliest start at or after the earliest that the mode allows; NO_END when none. */
  private firstStart(i: number): number {
    const span = this.spans[i]!;
    return span === null ? this.earliest(i) : span.next(this.earliest(i));
  }

  private addEvent(count: number, minute: number, delta: number): number {
    if (count === this.events.length) {
      const larger = new Float64Array(count * 2);
      larger.set(this.events);
      this.events = larger;
      this.at = new Int32Array(count * 2);
      this.height = new Int32Array(count * 2);
    }
    this.events[count] = minute * DELTA + (delta + DELTA / 2);
    return count + 1;
  }

  /** False when the profile overflows; the conflict is then written at the first minute of overflow. */
  private buildProfile(): boolean {
    const { pieces, taken, tasks } = this;
    let count = 0;
    for (let k = 0; k < taken.length; k++) {
      count = this.addEvent(count, taken[k]!.from, taken[k]!.amount);
      count = this.addEvent(count, taken[k]!.to, -taken[k]!.amount);
    }
    for (let i = 0; i < tasks.length; i++) {
      if (this.state(i) !== PRESENT) continue;
      const latest = this.latest(i);
      const first = this.firstStart(i);
      if (first > latest || !this.writePieces(i, first)) continue;
      for (let k = 0; k < pieces.count; k++) {
        const from = Math.max(latest, pieces.from[k]!);
        if (from >= pieces.to[k]!) continue;
        count = this.addEvent(count, from, tasks[i]!.amount);
        count = this.addEvent(count, pieces.to[k]!, -tasks[i]!.amount);
      }
    }
    this.solver.work += 8 + 2 * count;
    const sorted = this.events.subarray(0, count).sort();
    let load = 0;
    let segments = 0;
    for (let k = 0; k < count; ) {
      const minute = Math.floor(sorted[k]! / DELTA);
      while (k < count && Math.floor(sorted[k]! / DELTA) === minute) {
        load += sorted[k]! - minute * DELTA - DELTA / 2;
        k++;
      }
      this.at[segments] = minute;
      this.height[segments++] = load;
      if (load > this.capacity) {
        this.explanation.size = 0;
        this.explainMinute(minute, this.capacity + 1, -1, 0x7fffffff);
        return false;
      }
    }
    this.segments = segments;
    return true;
  }

  /** The first minute of [from, to) at which more than `free` is held, or -1. */
  private firstWithout(free: number, from: number, to: number): number {
    if (from >= to) return -1;
    for (let k = this.segmentAt(from); k < this.segments && this.at[k]! < to; k++) {
      if (this.height[k]! > free && (k + 1 === this.segments || this.at[k + 1]! > from)) {
        return Math.max(from, this.at[k]!);
      }
    }
    return -1;
  }

  /** The last minute, before `to`, of the stretch without room that holds `minute`. */
  private lastWithout(free: number, minute: number, to: number): number {
    let k = this.segmentAt(minute);
    while (k + 1 < this.segments && this.height[k + 1]! > free && this.at[k + 1]! < to) k++;
    return Math.min(to, k + 1 < this.segments ? this.at[k + 1]! : to) - 1;
  }

  private segmentAt(minute: number): number {
    let low = 0;
    let high = this.segments;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (this.at[middle]! <= minute) low = middle + 1;
      else high = middle;
    }
    return Math.max(0, low - 1);
  }

  private filter(i: number): boolean {
    const state = this.state(i);
    if (state === ABSENT) return true;
    const latest = this.latest(i);
    const free = this.capacity - this.tasks[i]!.amount;
    const p = this.tasks[i]!.presence;
    const first = this.firstStart(i);
    if (first > latest || !this.writePieces(i, first)) return true;
    const { pieces } = this;
    if (state === UNDECIDED) {
      // Where it surely works it must fit, or the mode is refused.
      for (let k = 0; k < pieces.count; k++) {
        const minute = this.firstWithout(free, Math.max(latest, pieces.from[k]!), pieces.to[k]!);
        if (minute >= 0) return this.bounds.raise(p ^ 1, p & 1, this.reason, this.dataOf(i, minute));
      }
      return true;
    }
    if (this.earliest(i) < latest && !this.pushRight(i, free)) return false;
    return this.spans[i] === null ? this.pushEnd(i, free) : this.pushLeft(i, free);
  }

  /** Starts too early to fit are passed over. */
  private pushRight(i: number, free: number): boolean {
    const { bounds, pieces } = this;
    const latest = this.latest(i);
    for (;;) {
      const first = this.firstStart(i);
      if (first > latest || !this.writePieces(i, first)) return true;
      let minute = -1;
      // Minutes from the latest start on are the task's own.
      for (let k = 0; k < pieces.count && minute < 0; k++) {
        const to = Math.min(pieces.to[k]!, latest);
        const without = this.firstWithout(free, pieces.from[k]!, to);
        if (without >= 0) minute = this.lastWithout(free, without, to);
      }
      if (minute < 0) return true;
      this.solver.work += 2;
      if (!bounds.raise(this.tasks[i]!.start, minute + 1, this.reason, this.dataOf(i, minute))) return false;
    }
  }

  /** Starts too late to fit are passed over. */
  private pushLeft(i: number, free: number): boolean {
    const { bounds, pieces } = this;
    const span = this.spans[i]!;
    const s = this.tasks[i]!.start;
    for (;;) {
      const first = this.firstStart(i);
      const last = span.previous(this.latest(i));
      if (first >= last || !this.writePieces(i, last)) return true;
      let minute = -1;
      for (let k = 0; k < pieces.count && minute < 0; k++) {
        for (let from = pieces.from[k]!; from < pieces.to[k]! && minute < 0; ) {
          const without = this.firstWithout(free, from, pieces.to[k]!);
          if (without < 0) break;
          // Where the task surely works anyway, what is there is its own.
          if (span.firstCovering(without) > first) minute = without;
          from = without + 1;
        }
      }
      if (minute < 0) return true;
      this.solver.work += 2;
      if (!bounds.raise(s ^ 1, 1 - span.firstCovering(minute), this.reason, this.dataOf(i, minute))) return false;
    }
  }

  /** Of a task that does not pause, the end. */
  private pushEnd(i: number, free: number): boolean {
    const { bounds } = this;
    const { start, end, endOffset } = this.tasks[i]!;
    for (;;) {
      const latest = this.latest(i);
      const surelyTo = bounds.lower[end]! + endOffset;
      const until = endOffset - bounds.lower[end ^ 1]!;
      const without = this.firstWithout(free, Math.max(latest, surelyTo), until);
      if (without < 0 || latest >= until) return true;
      this.solver.work += 2;
      // The task starts no later than the minute, so that it must have ended by then.
      if (!bounds.raise(end ^ 1, endOffset - without, this.reason, this.dataOf(i, without))) return false;
      if (start === end && this.latest(i) === latest) return true;
    }
  }

  /** Task and minute in one number; minutes too large for that are looked up. */
  private dataOf(i: number, minute: number): number {
    const n = this.tasks.length;
    const data = minute * n + i;
    if (data < 0x3fffffff && data >= 0) return data;
    let slot = this.slotOfMinute.get(minute);
    if (slot === undefined) {
      slot = this.minutes.push(minute) - 1;
      this.slotOfMinute.set(minute, slot);
    }
    return -(slot * n + i) - 1;
  }

  explain(half: number, _need: number, data: number, before: number): void {
    const n = this.tasks.length;
    const i = data >= 0 ? data % n : (-data - 1) % n;
    const minute = data >= 0 ? (data - i) / n : this.minutes[(-data - 1 - i) / n]!;
    const { explanation } = this;
    const { start, end, endOffset, presence: p, amount } = this.tasks[i]!;
    const span = this.spans[i]!;
    if (p !== ALWAYS && half === (p ^ 1)) this.pushCovers(i, minute);
    else {
      if (p !== ALWAYS) explanation.pushTrue(p);
      if (half === start) {
        if (span !== null) explanation.push(start, span.firstCovering(minute));
        else explanation.push(end, minute + 1 - endOffset);
      } else if (span !== null) explanation.push(start ^ 1, 1 - span.next(minute + 1));
      else explanation.push(start ^ 1, -minute);
    }
    this.explainMinute(minute, this.capacity - amount + 1, i, before);
  }

  /** Why the task, if it is there, has its work in progress at a minute. */
  private pushCovers(i: number, minute: number): void {
    const { start, end, endOffset } = this.tasks[i]!;
    const span = this.spans[i]!;
    this.explanation.push(start ^ 1, -minute);
    if (span !== null) this.explanation.push(start, span.firstCovering(minute));
    else this.explanation.push(end, minute + 1 - endOffset);
  }

  /** Whether the task surely had its work in progress at a minute, before a trail entry. */
  private covers(i: number, minute: number, before: number): boolean {
    const { bounds, pieces } = this;
    const { start, end, endOffset, presence: p } = this.tasks[i]!;
    if (-bounds.at(start ^ 1, before) > minute) return false;
    if (p !== ALWAYS && bounds.at(p, before) < 1 - (p & 1)) return false;
    const span = this.spans[i]!;
    if (span === null) return bounds.at(end, before) + endOffset > minute;
    const first = span.next(bounds.at(start, before));
    if (first >= NO_END || first > minute) return false;
    span.writePieces(first, pieces);
    for (let k = 0; k < pieces.count; k++) if (pieces.from[k]! <= minute && minute < pieces.to[k]!) return true;
    return false;
  }

  /** Writes tasks other than `except` that surely cover the minute, enough of them to hold at least `needed`. */
  private explainMinute(minute: number, needed: number, except: number, before: number): void {
    const { covering, explanation, taken, tasks } = this;
    let held = 0;
    let m = 0;
    for (let k = 0; k < taken.length; k++) {
      if (taken[k]!.from <= minute && minute < taken[k]!.to) held += taken[k]!.amount;
    }
    for (let k = 0; k < tasks.length; k++) {
      if (k === except || !this.covers(k, minute, before)) continue;
      covering[m++] = k;
      held += tasks[k]!.amount;
    }
    let spare = held - needed;
    for (let q = 0; q < m; q++) {
      const k = covering[q]!;
      if (tasks[k]!.amount <= spare) {
        spare -= tasks[k]!.amount;
        continue;
      }
      this.pushCovers(k, minute);
      if (tasks[k]!.presence !== ALWAYS) explanation.pushTrue(tasks[k]!.presence);
    }
  }
}
