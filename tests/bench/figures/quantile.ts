/**
 * The quantile of a sample by linear interpolation between order statistics: type 7 of Hyndman and Fan 1996, "Sample
 * quantiles in statistical packages". NaN of an empty sample.
 */
export function quantile(sample: readonly number[], probability: number): number {
  const sorted = [...sample].sort((a, b) => a - b);
  const position = (sorted.length - 1) * probability;
  const below = sorted[Math.floor(position)] ?? Number.NaN;
  const above = sorted[Math.ceil(position)] ?? Number.NaN;
  return below === above ? below : below + (above - below) * (position - Math.floor(position));
}

export function median(sample: readonly number[]): number {
  return quantile(sample, 0.5);
}
