/**
 * The least value of an ascending sample at or below which at least the share p of it lies: definition 1 of R. J. Hyndman
 * and Y. Fan, "Sample quantiles in statistical packages", The American Statistician 50 (1996). A time that is promised
 * with probability p is kept in at least that share of the scenarios.
 */
export function sampleQuantile(ascending: ArrayLike<number>, p: number): number {
  if (ascending.length === 0) throw new RangeError('ascending is empty; a quantile needs at least one value');
  if (!(p >= 0 && p <= 1)) throw new RangeError(`p is ${p}, must lie between 0 and 1`);
  // Counting errors of p * n, as in 0.07 * 100, must not cost a whole rank.
  const rank = Math.ceil(p * ascending.length - 1e-9);
  return ascending[Math.max(0, rank - 1)]!;
}

/** Share of an ascending sample at or below a value. */
export function shareWithin(ascending: ArrayLike<number>, value: number): number {
  let low = 0;
  let high = ascending.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (ascending[middle]! <= value) low = middle + 1;
    else high = middle;
  }
  return ascending.length === 0 ? 0 : low / ascending.length;
}
