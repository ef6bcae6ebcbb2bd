import { describe, expect, it } from 'vitest';
import { mix, uniform } from '../../../src/promise/simulate/seeded-draws.ts';
import { daysAlone, luckAfter } from '../../../src/promise/spread/day-runs.ts';
import { dayVariation } from '../../../src/promise/spread/day-variation.ts';
import { normalQuantile } from '../../../src/promise/spread/standard-normal.ts';
import type { Runs } from '../../../src/trade/work-content/learned-from-floor.ts';

const normal = (stream: number) => normalQuantile(uniform(17, mix(stream)));
const nth = (day: number) => `day ${String(day).padStart(4, '0')}`;
const residuals = (days: number, aDay: number, dayDeviation: number, ownDeviation: number) =>
  Array.from({ length: days * aDay }, (_, r) => ({
    day: nth(r % days),
    logResidual: dayDeviation * normal(50_000 + (r % days)) + ownDeviation * normal(r),
  }));

/** Eight records a day, of days whose luck (deviation 0.2) is partly that of a run. */
function inRuns(days: number, { share, withDayBefore }: Runs) {
  let run = normal(80_000);
  return Array.from({ length: days }, (_, d) => {
    run = withDayBefore * run + Math.sqrt(1 - withDayBefore ** 2) * normal(90_000 + d);
    const luck = 0.2 * (Math.sqrt(share) * run + Math.sqrt(1 - share) * normal(120_000 + d));
    return Array.from({ length: 8 }, (_, r) => ({ day: nth(d), logResidual: luck + 0.2 * normal(8 * d + r) }));
  }).flat();
}

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
    const { runs, quantiles } = dayVariation(residuals(400, 8, 0.25, 0.2));
    expect(runs!.share * runs!.withDayBefore).toBeLessThan(0.15);
    // Points at (k + 0.5) / 33 of a standard normal, from the inverse of its distribution.
    for (const [k, z] of quantiles!.entries()) expect(Math.abs(z - normalQuantile((k + 0.5) / 33))).toBeLessThan(0.35);
  });

  it('come in runs where each leans on the day before: how much of a day is its run, and how long runs last', () => {
    const { runs, lately } = dayVariation(inRuns(1_000, { share: 0.6, withDayBefore: 0.85 }));
    expect(Math.abs(runs!.share - 0.6)).toBeLessThan(0.15);
    expect(Math.abs(runs!.withDayBefore - 0.85)).toBeLessThan(0.1);
    expect(lately!.day).toBe(nth(999));
  });

  it('say of the run of the last day as much as the filter of a local level with noise settles at', () => {
    const { runs, lately } = dayVariation(inRuns(1_000, { share: 0.6, withDayBefore: 0.85 }));
    // Each day is seen through its own luck (0.4 of the variance) and that of eight records; Riccati's equation, solved by hand.
    const noise = (1 - runs!.share + 0.2 ** 2 / 8 / 0.2 ** 2) / runs!.share;
    const { withDayBefore: lean } = runs!;
    let variance = 1;
    for (let k = 0; k < 100; k++) {
      const before = lean ** 2 * variance + 1 - lean ** 2;
      variance = (before * noise) / (before + noise);
    }
    expect(Math.abs(lately!.variance - variance)).toBeLessThan(0.03);
  });

  it('of one slow month in five have a tail on the slow side', () => {
    const records = residuals(200, 20, 0.05, 0.2).map(({ day, logResidual }, r) => ({
      day,
      logResidual: logResidual + (r % 200 < 40 ? 0.24 : -0.06),
    }));
    const { quantiles, runs, lately } = dayVariation(records);
    // Slow by 0.24 of a deviation of about 0.13, the others quick by 0.06.
    expect(quantiles![16]).toBeLessThan(-0.2);
    expect(quantiles!.at(-3)).toBeGreaterThan(1.6);
    expect(quantiles![2]).toBeGreaterThan(-1.4);
    expect(runs!.share).toBeGreaterThan(0.6);
    expect(runs!.withDayBefore).toBeGreaterThan(0.85);
    expect(lately!.luck).toBeLessThan(-0.2);
  });

  it('of a few weeks say nothing of how days lie', () => {
    const { quantiles, runs, lately } = dayVariation(residuals(20, 10, 0.25, 0.2));
    expect([quantiles, runs, lately]).toEqual([undefined, undefined, undefined]);
  });
});

describe('what a run says of the days after it', () => {
  it('is less from day to day, and nothing at last', () => {
    const known = { luck: 1.5, variance: 0.2 };
    const runs = { share: 0.5, withDayBefore: 0.9 };
    expect(luckAfter(known, runs, 0).variance).toBeCloseTo(known.variance, 12);
    // By hand: 0.9 of the luck, 1 - 0.81 x 0.8 of the variance.
    expect(luckAfter(known, runs, 1).luck).toBeCloseTo(1.35, 12);
    expect(luckAfter(known, runs, 1).variance).toBeCloseTo(0.352, 12);
    expect(luckAfter(known, runs, 200).luck).toBeCloseTo(0, 6);
    expect(luckAfter(known, runs, 200).variance).toBeCloseTo(1, 6);
  });
});

describe('what runs leave of the days recorded', () => {
  it('is all of them without runs, and one where all days are one run', () => {
    expect(daysAlone({ days: 40 })).toBe(40);
    expect(daysAlone({ days: 40, runs: { share: 1, withDayBefore: 1 } })).toBeCloseTo(1, 12);
  });

  it('of two days, by hand, is 2 of 1.4', () => {
    // Variance of the mean of two: (1 + 0.4) / 2, so that they count for 2 / 1.4 days.
    expect(daysAlone({ days: 2, runs: { share: 0.5, withDayBefore: 0.8 } })).toBeCloseTo(2 / 1.4, 12);
  });
});
