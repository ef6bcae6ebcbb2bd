import { IntervalSet } from '../../engine/calendar/interval-set.ts';
import { NEVER } from '../../engine/calendar/never.ts';
import type { Interval } from '../../engine/problem/problem.ts';
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
  const hours = new IntervalSet(pickupOpen);
  const round = Math.ceil(sampleQuantile(pickup, confidence) / roundTo) * roundTo;
  // A round time after closing is told as the next opening.
  const at = hours.nextInside(round);
  return at >= NEVER ? null : { at, probability: shareWithin(pickup, at) };
}
