import { type Spread, threePoint } from '../trade/work-content/spread.ts';
import { normalProbability } from './spread/standard-normal.ts';

/** How much later than planned, in working minutes, a car may be ready. Negative is earlier. */
export interface Delay {
  /** Mean over all that may happen, a failed final inspection included. */
  readonly meanMinutes: number;
  /** Probability, 0 to 1, that the delay is at most so many minutes. */
  probabilityWithin(minutes: number): number;
  /** Least whole minutes, never below 0, whose probability is at least `confidence` (0 to 1, exclusive). */
  minutesAt(confidence: number): number;
}

/** Rework after a failed final inspection: 30 to 90 minutes, common practice. */
const rework = threePoint(30, 60, 90);

/**
 * Delay of a chain of work against its plan. Each piece has a three-point spread; along the chain means and variances
 * add (Malcolm, Roseboom, Clark and Fazar, Operations Research 7, 1959), and the sum is taken as normal. With
 * probability `reworkPercent` the final inspection fails once and rework follows: a mixture, not a wider normal.
 *
 * Pieces are taken as independent, and slack between them absorbs nothing: the first is too hopeful, the second too
 * careful.
 */
export function delayOf(chain: readonly Spread[], reworkPercent: number): Delay {
  let mean = 0;
  let variance = 0;
  for (const piece of chain) {
    mean += piece.mean - piece.likely;
    variance += piece.standardDeviation ** 2;
  }
  const fails = Math.min(100, Math.max(0, reworkPercent)) / 100;
  const smooth = within(mean, variance);
  const reworked = within(mean + rework.mean, variance + rework.standardDeviation ** 2);
  const probabilityWithin = (minutes: number) => (1 - fails) * smooth(minutes) + fails * reworked(minutes);
  return {
    meanMinutes: mean + fails * rework.mean,
    probabilityWithin,
    minutesAt: (confidence) => leastMinutes(probabilityWithin, confidence),
  };
}

function within(mean: number, variance: number): (minutes: number) => number {
  const deviation = Math.sqrt(variance);
  if (deviation === 0) return (minutes) => (minutes >= mean ? 1 : 0);
  return (minutes) => normalProbability((minutes - mean) / deviation);
}

function leastMinutes(probabilityWithin: (minutes: number) => number, confidence: number): number {
  if (!(confidence > 0 && confidence < 1)) throw new RangeError(`confidence ${confidence} must lie between 0 and 1`);
  if (probabilityWithin(0) >= confidence) return 0;
  let below = 0;
  let enough = 1;
  while (probabilityWithin(enough) < confidence) {
    below = enough;
    enough *= 2;
  }
  while (enough - below > 1) {
    const middle = Math.floor((below + enough) / 2);
    if (probabilityWithin(middle) >= confidence) enough = middle;
    else below = middle;
  }
  return enough;
}
