import { IntervalSet } from '../../engine/calendar/interval-set.ts';
import { NEVER } from '../../engine/calendar/never.ts';
import type { Interval, Problem } from '../../engine/problem/problem.ts';
import { sampleQuantile, shareWithin } from './sample-quantile.ts';

export interface PromiseTime {
  /** Minute of the problem's axis. */
  readonly at: number;
  /** Probability, 0 to 1, that the car can be picked up by then; at least what was asked. */
  readonly probability: number;
}

/**
 * The earliest round minute in pickup hours by which a car can be picked up with a given probability; null when there is none
 * within the hours given. Simulate with `pickups: 'asSoonAsReady'` to ask this.
 *
 * @param pickup minutes of possible pickup, ascending, one a scenario (`JobOutlook.pickup`).
 * @param confidence more than 0 and less than 1.
 * @param roundTo pickups are told on round times; 15 minutes is common practice.
 * @throws RangeError naming the argument that is out of range.
 */
export function earliestPromise(
  pickup: ArrayLike<number>,
  confidence: number,
  pickupOpen: readonly Interval[],
  roundTo = 15,
): PromiseTime | null {
  if (!(confidence > 0 && confidence < 1)) {
    throw new RangeError(`confidence is ${confidence}, must lie between 0 and 1`);
  }
  if (!(Number.isInteger(roundTo) && roundTo > 0))
    throw new RangeError(`roundTo is ${roundTo}, must be 1 or more minutes`);
  const at = nextPickup(sampleQuantile(pickup, confidence), pickupOpen, roundTo);
  return at === null ? null : { at, probability: shareWithin(pickup, at) };
}

/** When a job's car may be picked up: any time where nothing is said. */
export function pickupHours({ jobs, horizon }: Problem, job: number): readonly Interval[] {
  return jobs[job]!.pickupOpen ?? [{ from: 0, to: horizon }];
}

/** The first round minute in pickup hours at or after a minute; null beyond the hours given. */
export function nextPickup(minute: number, pickupOpen: readonly Interval[], roundTo = 15): number | null {
  // A round time after closing is told as the next opening.
  const at = new IntervalSet(pickupOpen).nextInside(Math.ceil(minute / roundTo) * roundTo);
  return at >= NEVER ? null : at;
}
