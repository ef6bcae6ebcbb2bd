import type { Interval } from '../problem/problem.ts';

/** Index of the first interval that ends after `minute`, in sorted disjoint intervals. O(log n). */
export function firstEndingAfter(intervals: readonly Interval[], minute: number): number {
  let low = 0;
  let high = intervals.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (intervals[middle]!.to > minute) high = middle;
    else low = middle + 1;
  }
  return low;
}

/** The first minute of [from, to) that no interval covers, or undefined. Intervals that touch count as one. */
export function firstUncovered(intervals: readonly Interval[], from: number, to: number): number | undefined {
  let minute = from;
  for (let k = firstEndingAfter(intervals, from); minute < to; k++) {
    const interval = intervals[k];
    if (interval === undefined || interval.from > minute) return minute;
    minute = interval.to;
  }
  return undefined;
}

export function covers(intervals: readonly Interval[] | undefined, minute: number): boolean {
  return intervals === undefined || firstUncovered(intervals, minute, minute + 1) === undefined;
}

/** Minutes of [from, to) that the intervals cover. */
export function coveredMinutes(intervals: readonly Interval[], from: number, to: number): number {
  let minutes = 0;
  for (let k = firstEndingAfter(intervals, from); k < intervals.length && intervals[k]!.from < to; k++) {
    minutes += Math.min(to, intervals[k]!.to) - Math.max(from, intervals[k]!.from);
  }
  return minutes;
}
