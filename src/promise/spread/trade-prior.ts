import { fromMoments, type LogNormal } from './log-normal.ts';

/** A three-point estimate with its moments, in minutes, as the work content gives it. */
export interface ThreePoints {
  readonly likely: number;
  readonly mean: number;
  readonly standardDeviation: number;
}

/**
 * What the trade says of a duration before the floor has recorded any: a log-normal factor on the likely minutes, with the
 * mean and variance of the three points (D. G. Malcolm, J. H. Roseboom, C. E. Clark and W. Fazar, Operations Research 7,
 * 1959). Work of no minutes is certain.
 */
export function tradeFactor({ likely, mean, standardDeviation }: ThreePoints): LogNormal {
  if (likely === 0) return { logMean: 0, logDeviation: 0 };
  return fromMoments(mean / likely, (standardDeviation / likely) ** 2);
}

/** How much the trade's prior weighs against the floor's records. Common practice; a shop can change it. */
export interface PriorWeights {
  /** The norm of a kind of work weighs as much as this many records. */
  readonly meanRecords: number;
  /** The spread of a kind of work weighs as much as this many records. */
  readonly spreadRecords: number;
  /** By how much people differ from one another at the same work, as a standard deviation of the logarithm. */
  readonly personLogDeviation: number;
  /** By how much conditions do, over what the work content already counts. */
  readonly conditionLogDeviation: number;
}

/** Five records as in the learned norms; people and conditions differ by 15 and 10 %. */
export const commonWeights: PriorWeights = {
  meanRecords: 5,
  spreadRecords: 10,
  personLogDeviation: 0.15,
  conditionLogDeviation: 0.1,
};
