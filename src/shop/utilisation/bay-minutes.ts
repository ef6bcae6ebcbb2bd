import type { Interval } from '../../engine/problem/problem.ts';
import { intersect, measure, subtract, union } from '../../trade/calendar/intervals.ts';

/** What is known of one bay in a week, in whole minutes on any axis, in any order. */
export interface BaySpans {
  /** The shop's opening hours. */
  readonly open: readonly Interval[];
  readonly cars: readonly Interval[];
  /** Somebody works on the car that stands here. */
  readonly work: readonly Interval[];
  /** Unattended work on it: cure, dwell, drying. */
  readonly unattended: readonly Interval[];
  /** Closures, and times a tandem neighbour is in the way. */
  readonly shut: readonly Interval[];
  readonly turnaroundMinutes: number;
}

/** Minutes by what the bay did; all but `open` add up to `open`. */
export interface BaySplit {
  readonly open: number;
  readonly worked: number;
  readonly curing: number;
  readonly waiting: number;
  readonly blocked: number;
  readonly empty: number;
}

/** Splits a bay's opening hours. Of two things at once the first of worked, curing, waiting, blocked, empty counts. */
export function splitBay(spans: BaySpans): BaySplit {
  const open = union(spans.open);
  const cars = intersect(open, union(spans.cars));
  const worked = intersect(cars, union(spans.work));
  const curing = subtract(intersect(cars, union(spans.unattended)), worked);
  const waiting = subtract(subtract(cars, worked), curing);
  const bare = subtract(open, cars);
  const turnarounds = union(spans.cars).map(({ to }) => ({ from: to, to: to + spans.turnaroundMinutes }));
  const blocked = intersect(bare, union([...spans.shut, ...turnarounds]));
  return {
    open: total(open),
    worked: total(worked),
    curing: total(curing),
    waiting: total(waiting),
    blocked: total(blocked),
    empty: total(subtract(bare, blocked)),
  };
}

export const total = (intervals: readonly Interval[]): number =>
  measure(intervals, Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY);
