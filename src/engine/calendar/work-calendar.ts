import type { Progress } from '../problem/problem.ts';
import { NEVER } from './never.ts';

/**
 * A progress function P compiled to prefix sums: the work done, and the minutes worked, up to each change of rate.
 * `runFrom` and `runTo` are the maximal runs of positive rate. Every question is answered in O(log n).
 */
export class WorkCalendar {
  readonly at: Int32Array;
  readonly rate: Int32Array;
  /** P at each `at`, in units of work. */
  readonly done: Float64Array;
  /** Minutes of positive rate before each `at`. */
  readonly minutes: Float64Array;
  readonly runFrom: Int32Array;
  readonly runTo: Int32Array;
  /** The rate of each run when it has but one; 0 when it has several. */
  readonly runRate: Int32Array;
  readonly fastest: number;
  /** The run asked for last: questions come in about the order of time. */
  #lastRun = 0;

  constructor(progress: Progress) {
    const n = progress.at.length;
    this.at = Int32Array.from(progress.at);
    this.rate = Int32Array.from(progress.rate);
    this.done = new Float64Array(n);
    this.minutes = new Float64Array(n);
    const from: number[] = [];
    const to: number[] = [];
    const rates: number[] = [];
    let fastest = 0;
    for (let k = 0; k < n; k++) {
      const rate = this.rate[k]!;
      fastest = Math.max(fastest, rate);
      if (k > 0) {
        const span = this.at[k]! - this.at[k - 1]!;
        this.done[k] = this.done[k - 1]! + span * this.rate[k - 1]!;
        this.minutes[k] = this.minutes[k - 1]! + (this.rate[k - 1]! > 0 ? span : 0);
      }
      if (rate === 0) continue;
      const end = k + 1 < n ? this.at[k + 1]! : NEVER;
      if (end <= this.at[k]!) continue;
      if (to.length > 0 && to[to.length - 1] === this.at[k]) {
        to[to.length - 1] = end;
        if (rates[to.length - 1] !== rate) rates[to.length - 1] = 0;
      } else {
        from.push(this.at[k]!);
        to.push(end);
        rates.push(rate);
      }
    }
    this.runFrom = Int32Array.from(from);
    this.runTo = Int32Array.from(to);
    this.runRate = Int32Array.from(rates);
    this.fastest = fastest;
  }

  /** P(minute). */
  workAt(minute: number): number {
    const k = lastAtMost(this.at, minute);
    return k < 0 ? 0 : this.done[k]! + (minute - this.at[k]!) * this.rate[k]!;
  }

  /** Minutes of positive rate before `minute`. */
  minutesAt(minute: number): number {
    const k = lastAtMost(this.at, minute);
    return k < 0 ? 0 : this.minutes[k]! + (this.rate[k]! > 0 ? minute - this.at[k]! : 0);
  }

  /** The earliest t >= start with P(t) - P(start) >= work; NEVER when the work is never done. */
  endOf(start: number, work: number): number {
    if (work <= 0) return start;
    return this.#earliest(this.done, this.workAt(start) + work, false);
  }

  /** As `endOf`, for whole work; quicker where the run that holds `start` holds all of it, as most do. */
  endOfShort(start: number, work: number): number {
    const k = this.runAt(start);
    if (work > 0 && k < this.runFrom.length && start >= this.runFrom[k]! && this.runRate[k]! === 1) {
      if (start + work <= this.runTo[k]!) return start + work;
    }
    return this.endOf(start, work);
  }

  /** The latest t <= end with P(end) - P(t) >= work; -1 when too little could be done before `end`. */
  latestStart(end: number, work: number): number {
    if (work <= 0) return end;
    const target = this.workAt(end) - work;
    if (target < 0) return -1;
    const k = lastAtMost(this.done, target);
    return Math.min(end, this.at[k]! + Math.floor((target - this.done[k]!) / this.rate[k]!));
  }

  /** The earliest minute before which at least `minutes` minutes have positive rate. */
  minuteWorked(minutes: number): number {
    return this.#earliest(this.minutes, minutes, true);
  }

  #earliest(prefix: Float64Array, target: number, inMinutes: boolean): number {
    if (target <= 0) return 0;
    let low = 0;
    let high = prefix.length;
    while (low < high) {
      const middle = (low + high) >>> 1;
      if (prefix[middle]! < target) low = middle + 1;
      else high = middle;
    }
    const k = low - 1;
    const rate = this.rate[k]!;
    if (rate === 0) return low < this.at.length ? this.at[low]! : NEVER;
    return Math.min(NEVER, this.at[k]! + Math.ceil((target - prefix[k]!) / (inMinutes ? 1 : rate)));
  }

  /** Index of the run that holds `minute`, or else of the first one after it. */
  runAt(minute: number): number {
    const { runFrom, runTo } = this;
    const last = this.#lastRun;
    if (last < runTo.length && minute < runTo[last]! && (last === 0 || minute >= runTo[last - 1]!)) return last;
    let low = 0;
    let high = runFrom.length;
    while (low < high) {
      const middle = (low + high) >>> 1;
      if (runTo[middle]! <= minute) low = middle + 1;
      else high = middle;
    }
    this.#lastRun = low;
    return low;
  }

  /** The earliest minute of positive rate at or after `minute`. */
  nextOpen(minute: number): number {
    const k = this.runAt(minute);
    return k < this.runFrom.length ? Math.max(minute, this.runFrom[k]!) : NEVER;
  }

  /** The earliest start at or after `minute` from which `work` is done within one run. */
  nextUnbroken(minute: number, work: number): number {
    for (let k = this.runAt(minute); k < this.runFrom.length; k++) {
      const start = Math.max(minute, this.runFrom[k]!);
      if (this.endInRun(k, start, work) <= this.runTo[k]!) return start;
    }
    return NEVER;
  }

  /** The end of work done in one go in the run that holds `start`, which it may outlast by so many minutes; -1 where it does not end so. */
  endStayingOn(start: number, work: number, overMinutes: number): number {
    const k = this.runAt(start);
    if (k >= this.runFrom.length || this.runFrom[k]! > start) return -1;
    const end = this.endInRun(k, start, work);
    return end - this.runTo[k]! <= overMinutes ? end : -1;
  }

  /** The end of work that starts at `start`, in run `k`, if it does not outlast the run. */
  endInRun(k: number, start: number, work: number): number {
    const rate = this.runRate[k]!;
    if (rate === 1) return start + work;
    return rate === 0 ? this.endOf(start, work) : start + Math.ceil(work / rate);
  }
}

function lastAtMost(sorted: Int32Array | Float64Array, value: number): number {
  let low = 0;
  let high = sorted.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (sorted[middle]! <= value) low = middle + 1;
    else high = middle;
  }
  return low - 1;
}
