/**
 * The exponent k of y ~ x^k: the slope of the least-squares line through (log x, log y). All must be positive. NaN when
 * fewer than two different x are given.
 */
export function logLogSlope(points: readonly { readonly x: number; readonly y: number }[]): number {
  const logs = points.map(({ x, y }) => ({ x: Math.log(x), y: Math.log(y) }));
  const meanX = logs.reduce((sum, { x }) => sum + x, 0) / logs.length;
  const meanY = logs.reduce((sum, { y }) => sum + y, 0) / logs.length;
  const covariance = logs.reduce((sum, { x, y }) => sum + (x - meanX) * (y - meanY), 0);
  const variance = logs.reduce((sum, { x }) => sum + (x - meanX) ** 2, 0);
  return covariance / variance;
}
