/** Linear between quantiles at (k + 0.5) / n, level beyond the first and last. */
export function betweenQuantiles(quantiles: readonly number[], p: number): number {
  const at = p * quantiles.length - 0.5;
  if (at <= 0) return quantiles[0]!;
  if (at >= quantiles.length - 1) return quantiles[quantiles.length - 1]!;
  const k = Math.floor(at);
  return quantiles[k]! + (at - k) * (quantiles[k + 1]! - quantiles[k]!);
}
