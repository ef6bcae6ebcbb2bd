import type { Interval } from '../../engine/problem/problem.ts';

/** Sorted, disjoint and not touching: the form every list of intervals here has. Half-open. */
export type Intervals = readonly Interval[];

/** What lies in any of the intervals; empty ones vanish, touching ones join. */
export function union(intervals: Intervals): Interval[] {
  const sorted = [...intervals].sort(earlierFirst);
  const joined: { from: number; to: number }[] = [];
  for (const { from, to } of sorted) {
    if (from >= to) continue;
    const last = joined.at(-1);
    if (last !== undefined && from <= last.to) last.to = Math.max(last.to, to);
    else joined.push({ from, to });
  }
  return joined;
}

function earlierFirst(a: Interval, b: Interval): number {
  return a.from - b.from;
}

/** What lies in both. */
export function intersect(one: Intervals, other: Intervals): Interval[] {
  const both: Interval[] = [];
  for (let i = 0, j = 0; i < one.length && j < other.length; ) {
    const from = Math.max(one[i]!.from, other[j]!.from);
    const to = Math.min(one[i]!.to, other[j]!.to);
    if (from < to) both.push({ from, to });
    if (one[i]!.to < other[j]!.to) i++;
    else j++;
  }
  return both;
}

/** What lies in the first and not in the second. */
export function subtract(one: Intervals, other: Intervals): Interval[] {
  const left: Interval[] = [];
  let j = 0;
  for (const { from, to } of one) {
    let at = from;
    while (j < other.length && other[j]!.to <= at) j++;
    for (let k = j; k < other.length && other[k]!.from < to; k++) {
      if (other[k]!.from > at) left.push({ from: at, to: other[k]!.from });
      at = Math.max(at, other[k]!.to);
    }
    if (at < to) left.push({ from: at, to });
  }
  return left;
}

/** How much of [from, to) lies in the intervals. */
export function measure(intervals: Intervals, from: number, to: number): number {
  let total = 0;
  for (const interval of intervals) total += Math.max(0, Math.min(interval.to, to) - Math.max(interval.from, from));
  return total;
}
