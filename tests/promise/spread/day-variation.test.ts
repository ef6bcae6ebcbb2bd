import { describe, expect, it } from 'vitest';
import { mix, uniform } from '../../../src/promise/simulate/seeded-draws.ts';
import { dayVariation } from '../../../src/promise/spread/day-variation.ts';
import { normalQuantile } from '../../../src/promise/spread/standard-normal.ts';

const normal = (stream: number) => normalQuantile(uniform(17, mix(stream)));
const nth = (day: number) => `day ${String(day).padStart(4, '0')}`;
const residuals = (days: number, aDay: number, dayDeviation: number, ownDeviation: number) =>
  Array.from({ length: days * aDay }, (_, r) => ({
    day: nth(r % days),
    logResidual: dayDeviation * normal(50_000 + (r % days)) + ownDeviation * normal(r),
  }));

describe('good and bad days', () => {
  it('are told from luck by what records of one day have in common', () => {
    // 200 days: the standard error of a variance estimated from so many is about a tenth of it.
    const { variance, days } = dayVariation(residuals(200, 8, 0.25, 0.2));
    expect(days).toBe(200);
    expect(Math.sqrt(variance)).toBeGreaterThan(0.21);
    expect(Math.sqrt(variance)).toBeLessThan(0.29);
  });

  it('are not seen where there are none', () => {
    expect(Math.sqrt(dayVariation(residuals(200, 8, 0, 0.2)).variance)).toBeLessThan(0.05);
  });

  it('are worked by hand as the mean product of pairs', () => {
    // One day with 15 records of 0.1: 105 pairs, each product 0.01.
    const records = Array.from({ length: 15 }, () => ({ day: 'monday', logResidual: 0.1 }));
    expect(dayVariation(records).variance).toBeCloseTo(0.01, 12);
    expect(dayVariation(records.slice(0, 14)).variance).toBe(0);
  });

  it('that have nothing to do with each other show no runs, and lie as a normal does', () => {
    const { withDayBefore, quantiles } = dayVariation(residuals(400, 8, 0.25, 0.2));
    expect(withDayBefore).toBeLessThan(0.15);
    // Points at (k + 0.5) / 33 of a standard normal, from the inverse of its distribution.
    for (const [k, z] of quantiles!.entries()) expect(Math.abs(z - normalQuantile((k + 0.5) / 33))).toBeLessThan(0.35);
  });

  it('come in runs where each leans on the day before (autoregressive, 0.7)', () => {
    let luck = 0;
    const records = Array.from({ length: 600 }, (_, d) => {
      luck = 0.7 * luck + Math.sqrt(1 - 0.7 ** 2) * normal(90_000 + d);
      return Array.from({ length: 8 }, (_, r) => ({ day: nth(d), logResidual: 0.2 * luck + 0.2 * normal(8 * d + r) }));
    }).flat();
    // The standard error of a first autocorrelation of 600 is about 0.03 (M. S. Bartlett, 1946).
    expect(dayVariation(records).withDayBefore).toBeGreaterThan(0.58);
    expect(dayVariation(records).withDayBefore).toBeLessThan(0.82);
  });

  it('of one slow month in five have a tail on the slow side', () => {
    const records = residuals(200, 20, 0.05, 0.2).map(({ day, logResidual }, r) => ({
      day,
      logResidual: logResidual + (r % 200 < 40 ? 0.24 : -0.06),
    }));
    const { quantiles, withDayBefore } = dayVariation(records);
    // Slow by 0.24 of a deviation of about 0.13, the others quick by 0.06.
    expect(quantiles![16]).toBeLessThan(-0.2);
    expect(quantiles!.at(-3)).toBeGreaterThan(1.6);
    expect(quantiles![2]).toBeGreaterThan(-1.4);
    expect(withDayBefore).toBeGreaterThan(0.6);
  });

  it('of a few weeks say nothing of how days lie', () => {
    const { quantiles, withDayBefore } = dayVariation(residuals(20, 10, 0.25, 0.2));
    expect(quantiles).toBeUndefined();
    expect(withDayBefore).toBeUndefined();
  });
});
