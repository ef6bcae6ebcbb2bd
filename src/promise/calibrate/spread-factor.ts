import type { PromiseOutcome } from './promise-outcome.ts';

/** Fewer promises than this never change the spread. */
const FEWEST_PROMISES = 30;

/**
 * By what the distance from the median to the promised time should have been multiplied: the factor f with the least
 * pinball loss of median + f (promised - median), each promise at its own confidence. That is a weighted quantile of the
 * achieved distances in units of the promised ones, found exactly (the loss is convex and piecewise linear in f; R. Koenker,
 * "Quantile Regression", chapter 2). Null when fewer than 30 promises say anything.
 */
export function correctedSpreadFactor(outcomes: readonly PromiseOutcome[]): number | null {
  const telling = outcomes
    .filter(({ promisedAt, medianAt, confidence }) => promisedAt > medianAt && confidence > 0.5)
    .map(({ promisedAt, medianAt, achievedAt, confidence }) => {
      const distance = promisedAt - medianAt;
      return { distance, confidence, ratio: (achievedAt - medianAt) / distance };
    })
    .sort((a, b) => a.ratio - b.ratio);
  if (telling.length < FEWEST_PROMISES) return null;
  // Slope of the loss below every ratio; passing a ratio adds its distance. The least loss is where it turns.
  let slope = -telling.reduce((sum, { distance, confidence }) => sum + distance * confidence, 0);
  for (const { distance, ratio } of telling) {
    slope += distance;
    if (slope >= 0) return Math.max(0, ratio);
  }
  return Math.max(0, telling.at(-1)!.ratio);
}
