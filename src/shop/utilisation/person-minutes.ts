import type { Interval } from '../../engine/problem/problem.ts';
import { intersect, subtract, union } from '../../trade/calendar/intervals.ts';
import { total } from './bay-minutes.ts';

export interface PersonSpans {
  /** Shifts, authorised overtime included. */
  readonly hours: readonly Interval[];
  readonly overtime: readonly Interval[];
  readonly handsOn: readonly Interval[];
  readonly watched: readonly (Interval & { readonly sharePercent: number })[];
}

/** Minutes of ordinary shifts by what the person did; `worked`, `watched` and `free` add up to `open`. */
export interface PersonSplit {
  readonly open: number;
  readonly worked: number;
  readonly watched: number;
  readonly free: number;
  /** Hands-on minutes in authorised overtime. */
  readonly overtime: number;
}

/** Splits a person's shifts. Watching counts by its share, and not beside hands-on work. */
export function splitPerson(spans: PersonSpans): PersonSplit {
  const overtime = union(spans.overtime);
  const open = subtract(union(spans.hours), overtime);
  const handsOn = union(spans.handsOn);
  const worked = intersect(open, handsOn);
  const idle = subtract(open, worked);
  const shares = spans.watched.reduce(
    (sum, { from, to, sharePercent }) => sum + (total(intersect(idle, [{ from, to }])) * sharePercent) / 100,
    0,
  );
  const watched = Math.min(total(idle), Math.round(shares));
  return {
    open: total(open),
    worked: total(worked),
    watched,
    free: total(idle) - watched,
    overtime: total(intersect(overtime, handsOn)),
  };
}
