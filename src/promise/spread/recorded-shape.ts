import { shapePoints } from './shape-points.ts';

/** Fewer residuals than this never overrule the log-normal. */
const FEWEST_FOR_SHAPE = 100;
/** Chi-square with 2 degrees of freedom is above this with probability 0.001. */
const CLEARLY_NOT_NORMAL = 13.8155;

/** Test statistic of C. M. Jarque and A. K. Bera, "Efficient tests for normality", Economics Letters 6 (1980). */
export function jarqueBera(values: readonly number[]): number {
  const n = values.length;
  const mean = values.reduce((sum, value) => sum + value, 0) / n;
  const moment = (power: number) => values.reduce((sum, value) => sum + (value - mean) ** power, 0) / n;
  const variance = moment(2);
  if (variance === 0) return 0;
  const skewness = moment(3) / variance ** 1.5;
  const kurtosis = moment(4) / variance ** 2;
  return (n / 6) * (skewness ** 2 + (kurtosis - 3) ** 2 / 4);
}

/**
 * Standardised quantiles at (k + 0.5) / 33 of residuals that are clearly not normal; undefined when there are too few, or
 * when nothing speaks against a normal.
 */
export function recordedShape(residuals: readonly number[]): readonly number[] | undefined {
  if (residuals.length < FEWEST_FOR_SHAPE || jarqueBera(residuals) <= CLEARLY_NOT_NORMAL) return undefined;
  return shapePoints(residuals);
}
