import type { Bounds } from '../learn/bounds.ts';
import type { Explanation } from '../learn/explanation.ts';
import type { Propagator } from '../learn/propagator.ts';
import type { Solver } from '../learn/solver.ts';
import { ALWAYS, type Task } from './task.ts';

/** An amount taken from outside over [from, to). */
export interface Taken {
  readonly from: number;
  readonly to: number;
  readonly amount: number;
}

/**
 * Ensures that at no minute the tasks present hold more than the capacity left by what is taken.
 *
 * A task whose latest start lies before its earliest end surely covers the minutes between; the sum of these is the
 * profile. A task that does not fit on top of the profile at a minute is pushed past it, from the left and from the right;
 * a mode not yet chosen that does not fit where it surely would lie is refused. Every push is explained at one minute, by
 * the fewest tasks that surely cover it, so that learnt clauses stay general.
 *
 * Wakes when a bound of a task moves. One run costs O(n log n) for the profile and O(n s) for the pushes over s segments.
 *
 * Reference: Le Pape 1988 (time tables); Schutt, Feydy, Stuckey and Wallace, Constraints 16, 2011 (pointwise explanation).
 */
export class Timetable implements Propagator {
  private readonly solver: Solver;
  private readonly bounds: Bounds;
  private readonly explanation: Explanation;
  private readonly reason: number;
  private readonly capacity: number;
  private readonly n: number;
  private readonly start: Int32Array;
  private readonly end: Int32Array;
  private readonly offset: Int32Array;
  private readonly amount: Int32Array;
  private readonly presence: Int32Array;
  private readonly takenFrom: Int32Array;
  private readonly takenTo: Int32Array;
  private readonly takenAmount: Int32Array;
  /** Tasks by latest start and by earliest end, kept between runs because they change little. */
  private readonly byStart: Int32Array;
  private readonly byEnd: Int32Array;
  private readonly key: Int32Array;
  private readonly key2: Int32Array;
  /** Profile: height[k] holds on [at[k], at[k + 1]). */
  private readonly at: Int32Array;
  private readonly height: Int32Array;
  private segments = 0;
  private readonly covering: Int32Array;

  constructor(solver: Solver, tasks: readonly Task[], capacity: number, taken: readonly Taken[]) {
    this.solver = solver;
    this.bounds = solver.bounds;
    this.explanation = solver.explanation;
    this.capacity = capacity;
    this.n = tasks.length;
    this.start = Int32Array.from(tasks, (t) => t.start);
    this.end = Int32Array.from(tasks, (t) => t.end);
    this.offset = Int32Array.from(tasks, (t) => t.endOffset);
    this.amount = Int32Array.from(tasks, (t) => t.amount);
    this.presence = Int32Array.from(tasks, (t) => t.presence);
    this.takenFrom = Int32Array.from(taken, (t) => t.from);
    this.takenTo = Int32Array.from(taken, (t) => t.to);
    this.takenAmount = Int32Array.from(taken, (t) => t.amount);
    const m = this.n + taken.length;
    this.byStart = Int32Array.from({ length: m }, (_, k) => k);
    this.byEnd = Int32Array.from({ length: m }, (_, k) => k);
    this.key = new Int32Array(m);
    this.key2 = new Int32Array(m);
    this.at = new Int32Array(2 * m + 2);
    this.height = new Int32Array(2 * m + 2);
    this.covering = new Int32Array(this.n);
    this.reason = solver.addExplainer(this);
    const wakes: number[] = [];
    for (const t of tasks) {
      wakes.push(t.start, t.start ^ 1, t.end, t.end ^ 1);
      if (t.presence !== ALWAYS) wakes.push(t.presence);
    }
    solver.addPropagator(this, 1, wakes);
  }

  propagate(): boolean {
    this.solver.work += 4 + (this.n >> 1);
    if (!this.buildProfile()) return false;
    if (this.segments === 0) return true;
    for (let i = 0; i < this.n; i++) if (!this.filter(i)) return false;
    return true;
  }

  private isPresent(i: number): boolean {
    const p = this.presence[i]!;
    return p === ALWAYS || this.bounds.lower[p]! >= 1 - (p & 1);
  }

  private isAbsent(i: number): boolean {
    const p = this.presence[i]!;
    return p !== ALWAYS && this.bounds.lower[p ^ 1]! >= (p & 1);
  }

  /** False when the profile overflows; the conflict is then written at the first minute of overflow. */
  private buildProfile(): boolean {
    const { bounds, n, key, key2, byStart, byEnd, at, height } = this;
    const lower = bounds.lower;
    const m = key.length;
    for (let k = 0; k < n; k++) {
      const s = -lower[this.start[k]! ^ 1]!;
      const e = lower[this.end[k]!]! + this.offset[k]!;
      const sure = s < e && this.isPresent(k);
      key[k] = sure ? s : 0x3fffffff;
      key2[k] = sure ? e : 0x3fffffff;
    }
    for (let k = n; k < m; k++) {
      key[k] = this.takenFrom[k - n]!;
      key2[k] = this.takenTo[k - n]!;
    }
    insertionSort(byStart, key);
    insertionSort(byEnd, key2);
    let segments = 0;
    let load = 0;
    let i = 0;
    let j = 0;
    while (j < m) {
      const end = key2[byEnd[j]!]!;
      const begin = i < m ? key[byStart[i]!]! : 0x3fffffff;
      const now = Math.min(begin, end);
      if (now === 0x3fffffff) break;
      while (j < m && key2[byEnd[j]!] === now) load -= this.amountOf(byEnd[j++]!);
      while (i < m && key[byStart[i]!] === now) load += this.amountOf(byStart[i++]!);
      at[segments] = now;
      height[segments++] = load;
      if (load > this.capacity) {
        this.explanation.size = 0;
        this.explainMinute(now, this.capacity + 1, -1, 0x7fffffff);
        return false;
      }
    }
    at[segments] = 0x3fffffff;
    this.segments = segments;
    return true;
  }

  private amountOf(k: number): number {
    return k < this.n ? this.amount[k]! : this.takenAmount[k - this.n]!;
  }

  private filter(i: number): boolean {
    const { bounds } = this;
    const lower = bounds.lower;
    const s = this.start[i]!;
    const e = this.end[i]!;
    const offset = this.offset[i]!;
    const amount = this.amount[i]!;
    if (amount === 0 || this.isAbsent(i)) return true;
    const free = this.capacity - amount;
    const sureFrom = -lower[s ^ 1]!;
    const sureTo = lower[e]! + offset;
    if (!this.isPresent(i)) {
      // Somewhere it surely would lie it does not fit: the mode is refused.
      if (sureFrom >= sureTo) return true;
      let k = this.segmentAt(sureFrom);
      for (; k < this.segments && this.at[k]! < sureTo; k++) {
        if (this.height[k]! > free) {
          const minute = Math.max(this.at[k]!, sureFrom);
          const p = this.presence[i]!;
          return bounds.raise(p ^ 1, p & 1, this.reason, this.dataOf(i, minute));
        }
      }
      return true;
    }
    const own = sureFrom < sureTo;
    if (own && lower[s] === sureFrom && -lower[e ^ 1]! + offset === sureTo) return true;
    // From the left: past each segment that begins before the task could surely end.
    let from = lower[s]!;
    let to = sureTo;
    for (let k = this.segmentAt(from); k < this.segments && this.at[k]! < to; k++) {
      if (this.height[k]! <= free) continue;
      if (own && this.at[k]! >= sureFrom && this.at[k]! < sureTo) break;
      const segmentEnd = this.at[k + 1]!;
      while (from < segmentEnd && from < to && this.at[k]! < to) {
        const minute = Math.min(segmentEnd, to) - 1;
        if (!bounds.raise(s, minute + 1, this.reason, this.dataOf(i, minute))) return false;
        from = minute + 1;
        to = lower[e]! + offset;
      }
    }
    // From the right.
    let until = offset - lower[e ^ 1]!;
    let latest = -lower[s ^ 1]!;
    for (let k = this.segmentBefore(until); k >= 0 && this.at[k + 1]! > latest; k--) {
      if (this.height[k]! <= free) continue;
      if (own && this.at[k]! >= sureFrom && this.at[k]! < sureTo) break;
      const segmentStart = this.at[k]!;
      while (until > segmentStart && until > latest && this.at[k + 1]! > latest) {
        const minute = Math.max(segmentStart, latest);
        if (!bounds.raise(e ^ 1, offset - minute, this.reason, this.dataOf(i, minute))) return false;
        until = minute;
        latest = -lower[s ^ 1]!;
      }
    }
    return true;
  }

  /** First segment that ends after the minute. */
  private segmentAt(minute: number): number {
    const { at } = this;
    let low = 0;
    let high = this.segments - 1;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (at[middle + 1]! > minute) high = middle;
      else low = middle + 1;
    }
    return low;
  }

  /** Last segment that begins before the minute. */
  private segmentBefore(minute: number): number {
    const { at } = this;
    let low = -1;
    let high = this.segments - 1;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if (at[middle]! < minute) low = middle;
      else high = middle - 1;
    }
    return low;
  }

  private readonly minutes: number[] = [];
  private readonly slotOfMinute = new Map<number, number>();

  /** A task and a minute in one int: the minute times n plus the task. */
  private dataOf(i: number, minute: number): number {
    const data = minute * this.n + i;
    if (data < 0x3fffffff && data >= 0) return data;
    let slot = this.slotOfMinute.get(minute);
    if (slot === undefined) {
      slot = this.minutes.push(minute) - 1;
      this.slotOfMinute.set(minute, slot);
    }
    return -(slot * this.n + i) - 1;
  }

  explain(half: number, _need: number, data: number, before: number): void {
    const i = data >= 0 ? data % this.n : (-data - 1) % this.n;
    const minute = data >= 0 ? (data - i) / this.n : this.minutes[(-data - 1 - i) / this.n]!;
    const { explanation } = this;
    const s = this.start[i]!;
    const e = this.end[i]!;
    const p = this.presence[i]!;
    if (p !== ALWAYS && half === (p ^ 1)) {
      explanation.push(s ^ 1, -minute);
      explanation.push(e, minute + 1 - this.offset[i]!);
    } else {
      if (p !== ALWAYS) explanation.pushTrue(p);
      if (half === s) explanation.push(e, minute + 1 - this.offset[i]!);
      else explanation.push(s ^ 1, -minute);
    }
    this.explainMinute(minute, this.capacity - this.amount[i]! + 1, i, before);
  }

  /** Writes tasks other than `except` that surely cover the minute, enough of them to hold at least `needed`. */
  private explainMinute(minute: number, needed: number, except: number, before: number): void {
    const { bounds, explanation, covering } = this;
    let held = 0;
    let m = 0;
    for (let k = 0; k < this.takenFrom.length; k++) {
      if (this.takenFrom[k]! <= minute && minute < this.takenTo[k]!) held += this.takenAmount[k]!;
    }
    for (let k = 0; k < this.n; k++) {
      if (k === except || this.amount[k] === 0) continue;
      if (-bounds.at(this.start[k]! ^ 1, before) > minute) continue;
      if (bounds.at(this.end[k]!, before) + this.offset[k]! <= minute) continue;
      const p = this.presence[k]!;
      if (p !== ALWAYS && bounds.at(p, before) < 1 - (p & 1)) continue;
      covering[m++] = k;
      held += this.amount[k]!;
    }
    let spare = held - needed;
    for (let q = 0; q < m; q++) {
      const k = covering[q]!;
      if (this.amount[k]! <= spare) {
        spare -= this.amount[k]!;
        continue;
      }
      explanation.push(this.start[k]! ^ 1, -minute);
      explanation.push(this.end[k]!, minute + 1 - this.offset[k]!);
      const p = this.presence[k]!;
      if (p !== ALWAYS) explanation.pushTrue(p);
    }
  }
}

/** Sorts indices by key; near linear on nearly sorted indices. */
function insertionSort(order: Int32Array, key: Int32Array): void {
  for (let i = 1; i < order.length; i++) {
    const item = order[i]!;
    const k = key[item]!;
    let j = i - 1;
    while (j >= 0 && key[order[j]!]! > k) {
      order[j + 1] = order[j]!;
      j--;
    }
    order[j + 1] = item;
  }
}
