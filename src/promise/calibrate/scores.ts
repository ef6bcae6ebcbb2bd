import { type PromiseOutcome, wasKept } from './promise-outcome.ts';

/**
 * Mean squared distance between the probability said and what happened, 0 best: G. W. Brier, "Verification of forecasts
 * expressed in terms of probability", Monthly Weather Review 78 (1950), in its form for one event.
 */
export function brierScore(outcomes: readonly PromiseOutcome[]): number {
  return meanOver(outcomes, (outcome) => (outcome.confidence - (wasKept(outcome) ? 1 : 0)) ** 2);
}

/**
 * Mean pinball loss of the promised times, in minutes, 0 best: an hour too late costs confidence, an hour too early
 * 1 - confidence, so that the quantile itself is the best promise (R. Koenker and G. Bassett, Econometrica 46, 1978).
 */
export function pinballLoss(outcomes: readonly PromiseOutcome[]): number {
  return meanOver(outcomes, ({ confidence, promisedAt, achievedAt }) =>
    quantileLoss(achievedAt, promisedAt, confidence),
  );
}

/** Pinball loss of one forecast of the p-quantile. */
export function quantileLoss(achieved: number, forecast: number, p: number): number {
  return achieved > forecast ? p * (achieved - forecast) : (1 - p) * (forecast - achieved);
}

function meanOver<T>(items: readonly T[], value: (item: T) => number): number {
  if (items.length === 0) throw new RangeError('outcomes is empty; a score needs at least one');
  return items.reduce((sum, item) => sum + value(item), 0) / items.length;
}
