import { shapePoints } from './shape-points.ts';

/** A record's distance from what was expected of it, in logarithms, and the day it was made on; days sort as they follow each other. */
export interface DayResidual {
  readonly day: string;
  readonly logResidual: number;
}

/** Fewer pairs of records made on one day say nothing of days. */
const FEWEST_PAIRS = 100;
/** Fewer days say nothing of how days lie around their mean. */
const FEWEST_DAYS_FOR_SHAPE = 30;
/** However alike days in a row are, runs end. */
const MOST_ALIKE = 0.95;

export interface DayVariation {
  /** Variance of the log factor that all work of one day shares; 0 when days do not differ, or too little is known. */
  readonly variance: number;
  /** Days it was seen on. What is learned from few days errs the same way in all work. */
  readonly days: number;
  /**
   * Quantiles at (k + 0.5) / 33 of the days' log factors in units of their standard deviation, around their mean: a slow month makes a
   * tail of slow days that a normal has not. Absent when too few days are known.
   */
  readonly quantiles?: readonly number[];
  /** Correlation of a day's log factor with that of the day worked before: bad days come in runs. Absent when too few are known. */
  readonly withDayBefore?: number;
}

/**
 * Variance of the log factor that all work of one day shares: good and bad days. Two records of one day have nothing else
 * in common, so it is the mean product of their residuals, over all pairs of all days: the moment estimator of a one-way
 * random effect (S. R. Searle, G. Casella and C. E. McCulloch, "Variance Components", chapter 3).
 */
export function dayVariation(residuals: readonly DayResidual[]): DayVariation {
  const days = new Map<string, { count: number; sum: number; squares: number }>();
  for (const { day, logResidual } of residuals) {
    const known = days.get(day) ?? { count: 0, sum: 0, squares: 0 };
    known.count++;
    known.sum += logResidual;
    known.squares += logResidual ** 2;
    days.set(day, known);
  }
  let products = 0;
  let pairs = 0;
  for (const { count, sum, squares } of days.values()) {
    products += sum ** 2 - squares;
    pairs += count * (count - 1);
  }
  const variance = pairs / 2 < FEWEST_PAIRS ? 0 : Math.max(0, products / pairs);
  if (variance === 0 || days.size < FEWEST_DAYS_FOR_SHAPE) return { variance, days: days.size };
  const own = residuals.reduce((sum, { logResidual }) => sum + logResidual ** 2, 0) / residuals.length - variance;
  const inTurn = [...days].sort(([a], [b]) => (a < b ? -1 : 1)).map(([, day]) => day);
  return {
    variance,
    days: days.size,
    quantiles: shapeOf(inTurn, variance, Math.max(0, own)),
    withDayBefore: Math.min(MOST_ALIKE, Math.max(0, productWithDayBefore(inTurn) / variance)),
  };
}

interface Day {
  readonly count: number;
  /** Of its residuals. */
  readonly sum: number;
}

/** Mean product of two residuals of days that follow each other: the same estimator, one day apart. */
function productWithDayBefore(inTurn: readonly Day[]): number {
  let products = 0;
  let pairs = 0;
  for (let d = 1; d < inTurn.length; d++) {
    products += inTurn[d - 1]!.sum * inTurn[d]!.sum;
    pairs += inTurn[d - 1]!.count * inTurn[d]!.count;
  }
  return pairs === 0 ? 0 : products / pairs;
}

/**
 * What is believed of each day (its mean, drawn towards zero by what little its records say), spread to the days' own variance, for
 * beliefs vary less than what they are about (T. A. Louis, "Estimating a population of parameter values using Bayes and empirical
 * Bayes methods", Journal of the American Statistical Association 79, 1984).
 */
function shapeOf(days: readonly Day[], variance: number, own: number): readonly number[] {
  const believed = days.map(({ count, sum }) => (sum * variance) / (count * variance + own));
  const mean = believed.reduce((sum, each) => sum + each, 0) / believed.length;
  const deviation = Math.sqrt(believed.reduce((sum, each) => sum + (each - mean) ** 2, 0) / believed.length);
  return shapePoints(believed.map((each) => (each - mean) / deviation));
}
