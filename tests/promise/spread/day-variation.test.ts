import { describe, expect, it } from 'vitest';
import { mix, uniform } from '../../../src/promise/simulate/seeded-draws.ts';
import { dayVariation } from '../../../src/promise/spread/day-variation.ts';
import { normalQuantile } from '../../../src/promise/spread/standard-normal.ts';

const normal = (stream: number) => normalQuantile(uniform(17, mix(stream)));
const residuals = (days: number, aDay: number, dayDeviation: number, ownDeviation: number) =>
  Array.from({ length: days * aDay }, (_, r) => ({
    day: `day ${r % days}`,
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
});
