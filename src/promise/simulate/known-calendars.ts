import { IntervalSet } from '../../engine/calendar/interval-set.ts';
import { WorkCalendar } from '../../engine/calendar/work-calendar.ts';
import type { Interval, Progress } from '../../engine/problem/problem.ts';

/** A shop's calendars stay what they are from one question to the next: each is compiled once, as long as its own data lives. */
export const calendarOf: (progress: Progress) => WorkCalendar = remembered((progress) => new WorkCalendar(progress));

export const intervalSetOf: (intervals: readonly Interval[]) => IntervalSet = remembered(
  (intervals) => new IntervalSet(intervals),
);

const insideOf = new WeakMap<
  WorkCalendar,
  WeakMap<IntervalSet, { readonly horizon: number; readonly inside: boolean }>
>();

/** Whether all the hours of a calendar, before the horizon, lie in a set. Null: a calendar without a pause. */
export function staysInside(calendar: WorkCalendar | null, open: IntervalSet, horizon: number): boolean {
  if (calendar === null) return open.encloses(0, horizon);
  let ofCalendar = insideOf.get(calendar);
  if (ofCalendar === undefined) {
    ofCalendar = new WeakMap();
    insideOf.set(calendar, ofCalendar);
  }
  let known = ofCalendar.get(open);
  if (known?.horizon !== horizon) {
    known = { horizon, inside: isInside(calendar, open, horizon) };
    ofCalendar.set(open, known);
  }
  return known.inside;
}

function isInside(calendar: WorkCalendar, open: IntervalSet, horizon: number): boolean {
  for (let k = 0; k < calendar.runFrom.length; k++) {
    const from = calendar.runFrom[k]!;
    const to = Math.min(calendar.runTo[k]!, horizon);
    if (from < to && open.minutesIn(from, to) < to - from) return false;
  }
  return true;
}

function remembered<K extends object, V>(make: (key: K) => V): (key: K) => V {
  const known = new WeakMap<K, V>();
  return (key) => {
    let value = known.get(key);
    if (value === undefined) {
      value = make(key);
      known.set(key, value);
    }
    return value;
  };
}
