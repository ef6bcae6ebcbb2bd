import type { Interval } from '../problem/problem.ts';
import { NEVER } from './never.ts';

/** Half-open intervals in order of time, in flat arrays, asked in O(log n). */
export class IntervalSet {
  readonly from: Int32Array;
  readonly to: Int32Array;

  constructor(intervals: readonly Interval[]) {
    const ordered = intervals.filter(isNotEmpty).sort(byBeginning);
    this.from = beginnings(ordered);
    this.to = ends(ordered);
  }

  /** Index of the last interval that begins at or before `minute`; -1 when there is none. */
  indexAt(minute: number): number {
    const from = this.from;
    let low = 0;
    let high = from.length;
    while (low < high) {
      const middle = (low + high) >>> 1;
      if (from[middle]! <= minute) low = middle + 1;
      else high = middle;
    }
    return low - 1;
  }

  contains(minute: number): boolean {
    const k = this.indexAt(minute);
    return k >= 0 && minute < this.to[k]!;
  }

  /** Whether one interval has from <= start and end <= to. */
  encloses(start: number, end: number): boolean {
    const k = this.indexAt(start);
    return k >= 0 && end <= this.to[k]!;
  }

  /** The earliest minute at or after `minute` that lies in an interval; NEVER when there is none. */
  nextInside(minute: number): number {
    const k = this.indexAt(minute);
    if (k >= 0 && minute < this.to[k]!) return minute;
    return k + 1 < this.from.length ? this.from[k + 1]! : NEVER;
  }

  /** The earliest interval that begins after `minute`; NEVER when there is none. */
  nextFrom(minute: number): number {
    const k = this.indexAt(minute) + 1;
    return k < this.from.length ? this.from[k]! : NEVER;
  }

  /** The latest minute at or before `minute` that lies in an interval; -1 when there is none. */
  lastInside(minute: number): number {
    const k = this.indexAt(minute);
    return k < 0 ? -1 : Math.min(minute, this.to[k]! - 1);
  }

  /** The end of the last interval that meets [start, end); -1 when none does. */
  lastMeeting(start: number, end: number): number {
    if (end <= start) return -1;
    const k = this.indexAt(end - 1);
    return k >= 0 && this.to[k]! > start ? this.to[k]! : -1;
  }

  /** Minutes of [start, end) that lie inside. */
  minutesIn(start: number, end: number): number {
    let minutes = 0;
    for (let k = end > start ? this.indexAt(end - 1) : -1; k >= 0 && this.to[k]! > start; k--) {
      minutes += Math.min(end, this.to[k]!) - Math.max(start, this.from[k]!);
    }
    return minutes;
  }
}

function isNotEmpty({ from, to }: Interval): boolean {
  return to > from;
}

function byBeginning(a: Interval, b: Interval): number {
  return a.from - b.from;
}

export function beginnings(intervals: readonly Interval[]): Int32Array {
  const from = new Int32Array(intervals.length);
  for (let k = 0; k < from.length; k++) from[k] = intervals[k]!.from;
  return from;
}

export function ends(intervals: readonly Interval[]): Int32Array {
  const to = new Int32Array(intervals.length);
  for (let k = 0; k < to.length; k++) to[k] = intervals[k]!.to;
  return to;
}
