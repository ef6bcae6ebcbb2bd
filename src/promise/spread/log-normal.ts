import { normalProbability, normalQuantile } from './standard-normal.ts';

/**
 * A quantity whose logarithm is normal: durations err by factors, are never negative, and overrun further than they
 * save. Moments after N. L. Johnson, S. Kotz and N. Balakrishnan, "Continuous Univariate Distributions" 1 (1994), chapter 14.
 */
export interface LogNormal {
  /** Mean of the natural logarithm. */
  readonly logMean: number;
  /** Standard deviation of the natural logarithm; 0 is a certain value. */
  readonly logDeviation: number;
}

export function meanOf({ logMean, logDeviation }: LogNormal): number {
  return Math.exp(logMean + logDeviation ** 2 / 2);
}

export function varianceOf({ logMean, logDeviation }: LogNormal): number {
  return Math.expm1(logDeviation ** 2) * Math.exp(2 * logMean + logDeviation ** 2);
}

export const medianOf = ({ logMean }: LogNormal): number => Math.exp(logMean);

/** @param p probability, more than 0 and less than 1. */
export function quantileOf({ logMean, logDeviation }: LogNormal, p: number): number {
  return Math.exp(logMean + (logDeviation === 0 ? 0 : logDeviation * normalQuantile(p)));
}

export function probabilityWithin({ logMean, logDeviation }: LogNormal, value: number): number {
  if (value <= 0) return 0;
  const distance = Math.log(value) - logMean;
  return logDeviation === 0 ? Number(distance >= 0) : normalProbability(distance / logDeviation);
}

/** The log-normal with a given mean and variance. @throws RangeError when the mean is not positive or the variance negative. */
export function fromMoments(mean: number, variance: number): LogNormal {
  if (!(mean > 0)) throw new RangeError(`mean is ${mean}, must be more than 0`);
  if (!(variance >= 0)) throw new RangeError(`variance is ${variance}, must be 0 or more`);
  const logVariance = Math.log1p(variance / mean ** 2);
  return { logMean: Math.log(mean) - logVariance / 2, logDeviation: Math.sqrt(logVariance) };
}
