import type { Interval, Mode, Problem } from '../problem/problem.ts';
import { firstEndingAfter } from './covering.ts';

interface RatedSpan extends Interval {
  readonly rate: number;
}

/** The spans of positive rate of the mode's progress from `start` on, in order; the last may run for ever. */
function* ratedSpans(problem: Problem, mode: Mode, start: number): Generator<RatedSpan> {
  if (mode.progress === undefined) {
    yield { from: start, to: Number.POSITIVE_INFINITY, rate: 1 };
    return;
  }
  const { at, rate } = problem.progresses[mode.progress]!;
  let low = 0;
  let high = at.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (at[middle]! > start) high = middle;
    else low = middle + 1;
  }
  for (let k = Math.max(0, low - 1); k < at.length; k++) {
    const from = Math.max(start, at[k]!);
    const to = at[k + 1] ?? Number.POSITIVE_INFINITY;
    if (rate[k]! > 0 && to > from) yield { from, to, rate: rate[k]! };
  }
}

/** The same spans, cut where the operation itself has used up its budget's limit within a window. */
function* budgetedSpans(problem: Problem, mode: Mode, start: number): Generator<RatedSpan> {
  if (mode.budget === undefined) {
    yield* ratedSpans(problem, mode, start);
    return;
  }
  const { windows, limit } = problem.budgets[mode.budget]!;
  let window = firstEndingAfter(windows, start);
  let left = limit;
  for (const span of ratedSpans(problem, mode, start)) {
    let from = span.from;
    while (from < span.to) {
      while (window < windows.length && windows[window]!.to <= from) {
        window++;
        left = limit;
      }
      const next = windows[window];
      if (next === undefined || next.from > from) {
        const to = Math.min(span.to, next?.from ?? Number.POSITIVE_INFINITY);
        yield { from, to, rate: span.rate };
        from = to;
        continue;
      }
      const to = Math.min(span.to, next.to);
      const workedTo = Math.min(to, from + left);
      if (workedTo > from) yield { from, to: workedTo, rate: span.rate };
      left -= workedTo - from;
      from = to;
    }
  }
}

/**
 * The earliest end of work begun at `start`, or undefined when its progress never gets there. Read off the rates one
 * span after another. O(spans met).
 */
export function completion(problem: Problem, mode: Mode, start: number): number | undefined {
  let left = mode.work;
  if (left === 0) return start;
  for (const span of budgetedSpans(problem, mode, start)) {
    const minutes = Math.ceil(left / span.rate);
    if (span.from + minutes <= span.to) return span.from + minutes;
    left -= (span.to - span.from) * span.rate;
  }
  return undefined;
}

/** The pieces of [start, end) in which the work is in progress: sorted, disjoint, not touching. */
export function workedPieces(problem: Problem, mode: Mode, start: number, end: number): readonly Interval[] {
  const pieces: { from: number; to: number }[] = [];
  if (mode.work === 0) return pieces;
  for (const span of budgetedSpans(problem, mode, start)) {
    if (span.from >= end) break;
    const to = Math.min(span.to, end);
    const last = pieces.at(-1);
    if (last !== undefined && last.to === span.from) last.to = to;
    else pieces.push({ from: span.from, to });
  }
  return pieces;
}
