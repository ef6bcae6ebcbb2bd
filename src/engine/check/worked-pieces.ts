import type { Interval, Mode, Problem, Progress } from '../problem/problem.ts';
import { firstEndingAfter } from './covering.ts';

const ALWAYS: Progress = { at: [Number.NEGATIVE_INFINITY], rate: [1] };
const NO_WINDOWS: readonly Interval[] = [];

/**
 * The spans of positive rate of a mode's progress from `start` on, one after another, cut where the operation itself has used
 * up its budget's limit within a window; the last may run for ever.
 */
class WorkedSpans {
  from = 0;
  to = 0;
  rate = 0;
  readonly #start: number;
  readonly #progress: Progress;
  /** The piece of the progress to be looked at next. */
  #piece: number;
  /** What is left of the piece at hand. */
  #pieceFrom = 0;
  #pieceTo = 0;
  readonly #windows: readonly Interval[];
  readonly #limit: number;
  #window: number;
  /** Minutes that the window at hand still allows. */
  #left: number;

  constructor(problem: Problem, mode: Mode, start: number) {
    this.#start = start;
    this.#progress = mode.progress === undefined ? ALWAYS : problem.progresses[mode.progress]!;
    this.#piece = lastAtMost(this.#progress.at, start);
    const budget = mode.budget === undefined ? undefined : problem.budgets[mode.budget]!;
    this.#windows = budget?.windows ?? NO_WINDOWS;
    this.#limit = budget?.limit ?? 0;
    this.#window = firstEndingAfter(this.#windows, start);
    this.#left = this.#limit;
  }

  /** Goes on to the next span; false when there is none. */
  next(): boolean {
    for (;;) {
      if (this.#pieceFrom >= this.#pieceTo && !this.#nextPiece()) return false;
      if (this.#cut()) return true;
    }
  }

  #nextPiece(): boolean {
    const { at, rate } = this.#progress;
    for (let k = Math.max(0, this.#piece); k < at.length; k++) {
      const from = Math.max(this.#start, at[k]!);
      const to = k + 1 < at.length ? at[k + 1]! : Number.POSITIVE_INFINITY;
      if (rate[k]! <= 0 || to <= from) continue;
      this.#piece = k + 1;
      this.#pieceFrom = from;
      this.#pieceTo = to;
      this.rate = rate[k]!;
      return true;
    }
    return false;
  }

  /** Takes from the piece at hand what lies before or within the next window; false when the window allows no more work. */
  #cut(): boolean {
    const from = this.#pieceFrom;
    while (this.#window < this.#windows.length && this.#windows[this.#window]!.to <= from) {
      this.#window++;
      this.#left = this.#limit;
    }
    const window = this.#windows[this.#window];
    const free = window === undefined || window.from > from;
    const edge = free ? (window?.from ?? Number.POSITIVE_INFINITY) : window.to;
    this.#pieceFrom = Math.min(this.#pieceTo, edge);
    this.from = from;
    this.to = free ? this.#pieceFrom : Math.min(this.#pieceFrom, from + this.#left);
    if (!free) this.#left -= this.to - from;
    return this.to > from;
  }
}

/** Index of the last entry that is at most `value`; -1 when there is none. */
function lastAtMost(sorted: readonly number[], value: number): number {
  let low = 0;
  let high = sorted.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (sorted[middle]! > value) high = middle;
    else low = middle + 1;
  }
  return low - 1;
}

/**
 * The earliest end of work begun at `start`, or undefined when its progress never gets there. Read off the rates one
 * span after another. O(spans met).
 */
export function completion(problem: Problem, mode: Mode, start: number): number | undefined {
  let left = mode.work;
  if (left === 0) return start;
  const span = new WorkedSpans(problem, mode, start);
  while (span.next()) {
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
  const span = new WorkedSpans(problem, mode, start);
  while (span.next() && span.from < end) {
    const to = Math.min(span.to, end);
    const last = pieces.length === 0 ? undefined : pieces[pieces.length - 1];
    if (last !== undefined && last.to === span.from) last.to = to;
    else pieces.push({ from: span.from, to });
  }
  return pieces;
}
