import { normalQuantile } from '../../promise/spread/standard-normal.ts';

/**
 * Quantile of Student's t: exact for one and two degrees of freedom, else the expansion around the normal quantile (M. Abramowitz
 * and I. A. Stegun, "Handbook of Mathematical Functions", 26.7.5), good to 0.005 at 97.5 %.
 *
 * @param p more than 0 and less than 1.
 * @param degrees of freedom, 1 or more.
 */
export function studentQuantile(p: number, degrees: number): number {
  if (degrees === 1) return Math.tan(Math.PI * (p - 0.5));
  if (degrees === 2) return (2 * p - 1) / Math.sqrt(2 * p * (1 - p));
  const x = normalQuantile(p);
  const terms = [
    x,
    (x ** 3 + x) / 4,
    (5 * x ** 5 + 16 * x ** 3 + 3 * x) / 96,
    (3 * x ** 7 + 19 * x ** 5 + 17 * x ** 3 - 15 * x) / 384,
    (79 * x ** 9 + 776 * x ** 7 + 1482 * x ** 5 - 1920 * x ** 3 - 945 * x) / 92_160,
  ];
  return terms.reduce((sum, term, power) => sum + term / degrees ** power, 0);
}
