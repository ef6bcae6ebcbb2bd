import type { DayVariation, RunLuck, Runs } from '../../trade/work-content/learned-from-floor.ts';

export const NO_RUNS: Runs = { share: 0, withDayBefore: 0 };
export const NOTHING_KNOWN: RunLuck = { luck: 0, variance: 1 };

/** What a run's luck on one day says of it some days later. */
export function luckAfter({ luck, variance }: RunLuck, { withDayBefore }: Runs, days: number): RunLuck {
  const leans = withDayBefore ** days;
  return { luck: leans * luck, variance: 1 - leans ** 2 * (1 - variance) };
}

/**
 * Days that, each by itself, would say as much of the mean as these do in their runs (variance of the mean of an autocorrelated
 * series: A. M. Law, "Simulation Modeling and Analysis", chapter on output data).
 */
export function daysAlone({ days, runs = NO_RUNS }: Pick<DayVariation, 'days' | 'runs'>): number {
  let common = 0;
  for (let k = 1; k < days; k++) common += (1 - k / days) * runs.share * runs.withDayBefore ** k;
  return days / (1 + 2 * common);
}
