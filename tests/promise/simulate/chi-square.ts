import jStat from 'jstat';

/** Pearson's statistic of counts that are all expected to be equal. */
export function chiSquare(counts: readonly number[]): number {
  const expected = counts.reduce((sum, count) => sum + count, 0) / counts.length;
  return counts.reduce((sum, count) => sum + (count - expected) ** 2 / expected, 0);
}

/** How many of some values, each from 0 to below 1, lie in each of so many equal cells. */
export function countsIn(cells: number, values: readonly number[]): number[] {
  const counts = new Array<number>(cells).fill(0);
  for (const value of values) counts[Math.floor(value * cells)]!++;
  return counts;
}

/** Its quantile at 0.999 for so many cells (jStat). */
export const limit = (cells: number): number => jStat.chisquare.inv(0.999, cells - 1);
