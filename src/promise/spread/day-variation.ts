import type { DayVariation, RunLuck, Runs } from '../../trade/work-content/learned-from-floor.ts';
import { luckAfter, NO_RUNS, NOTHING_KNOWN } from './day-runs.ts';
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
/** Days apart that are compared to tell how long runs last. */
const FARTHEST = 5;
/** However alike days in a row are, runs end. */
const MOST_ALIKE = 0.97;

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
  const spread = residuals.reduce((sum, { logResidual }) => sum + logResidual ** 2, 0) / residuals.length;
  const own = Math.max(0, spread - variance);
  const named = [...days].sort(([a], [b]) => (a < b ? -1 : 1));
  const inTurn = named.map(([, day]) => day);
  const runs = runsOf(inTurn, variance);
  return {
    variance,
    days: days.size,
    quantiles: shapeOf(inTurn, variance, own),
    runs,
    lately: { day: named.at(-1)![0], ...luckOfLast(inTurn, variance, own, runs) },
  };
}

interface Day {
  readonly count: number;
  /** Of its residuals. */
  readonly sum: number;
}

/**
 * Covariances of days one, two and more apart fall by the same factor each where a day is a run's luck and its own (the moments of an
 * autoregressive process with noise: J. D. Hamilton, "Time Series Analysis", chapter 3).
 */
function runsOf(inTurn: readonly Day[], variance: number): Runs {
  const apart = Array.from({ length: FARTHEST }, (_, k) => productApart(inTurn, k + 1));
  const sum = (from: number, to: number) => apart.slice(from, to).reduce((all, each) => all + each, 0);
  const nearer = sum(0, FARTHEST - 1);
  if (nearer <= 0 || apart[0]! <= 0) return NO_RUNS;
  const withDayBefore = Math.min(MOST_ALIKE, Math.max(0, sum(1, FARTHEST) / nearer));
  if (withDayBefore === 0) return NO_RUNS;
  return { share: Math.min(1, apart[0]! / withDayBefore / variance), withDayBefore };
}

/** Mean product of two residuals of days so far apart: the same estimator as of one day's. */
function productApart(inTurn: readonly Day[], by: number): number {
  let products = 0;
  let pairs = 0;
  for (let d = by; d < inTurn.length; d++) {
    products += inTurn[d - by]!.sum * inTurn[d]!.sum;
    pairs += inTurn[d - by]!.count * inTurn[d]!.count;
  }
  return pairs === 0 ? 0 : products / pairs;
}

/** The luck of the run of the last day, from the days that led to it (R. E. Kalman's filter, 1960). */
function luckOfLast(inTurn: readonly Day[], variance: number, own: number, runs: Runs): RunLuck {
  const ofRuns = runs.share * variance;
  let known: RunLuck = NOTHING_KNOWN;
  if (ofRuns === 0) return known;
  for (const { count, sum } of inTurn) {
    const before = luckAfter(known, runs, 1);
    const gain = before.variance / (before.variance + (variance - ofRuns + own / count) / ofRuns);
    const seen = sum / count / Math.sqrt(ofRuns);
    known = { luck: before.luck + gain * (seen - before.luck), variance: before.variance * (1 - gain) };
  }
  return known;
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
