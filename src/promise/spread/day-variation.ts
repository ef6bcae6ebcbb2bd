/** A record's distance from what was expected of it, in logarithms, and the day it was made on. */
export interface DayResidual {
  readonly day: string;
  readonly logResidual: number;
}

/** Fewer pairs of records made on one day say nothing of days. */
const FEWEST_PAIRS = 100;

export interface DayVariation {
  /** Variance of the log factor that all work of one day shares; 0 when days do not differ, or too little is known. */
  readonly variance: number;
  /** Days it was seen on. What is learned from few days errs the same way in all work. */
  readonly days: number;
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
  return { variance: pairs / 2 < FEWEST_PAIRS ? 0 : Math.max(0, products / pairs), days: days.size };
}
