import { describe, expect, it } from 'vitest';
import { mix, scenarioSeed, streamOf, uniform } from '../../../src/promise/simulate/seeded-draws.ts';
import { chiSquare, countsIn, limit } from './chi-square.ts';

const draws = (count: number, draw: (k: number) => number) => Array.from({ length: count }, (_, k) => draw(k));

describe('draws', () => {
  // Pearson's test of fit, against jStat's chi-square quantile at 0.999.
  const misfit = (values: readonly number[]) => chiSquare(countsIn(50, values));

  it('are uniform across scenarios and across streams', () => {
    const stream = streamOf('job 1 wipe');
    expect(misfit(draws(50_000, (s) => uniform(scenarioSeed(11, s), stream)))).toBeLessThan(limit(50));
    expect(misfit(draws(50_000, (o) => uniform(scenarioSeed(11, 3), mix(o))))).toBeLessThan(limit(50));
  });

  it('of neighbouring operations and neighbouring scenarios have nothing to do with each other', () => {
    const correlation = (a: (k: number) => number, b: (k: number) => number) =>
      (draws(50_000, (k) => (a(k) - 0.5) * (b(k) - 0.5)).reduce((sum, x) => sum + x, 0) / 50_000) * 12;
    const at = (scenario: number, o: number) => uniform(scenarioSeed(5, scenario), mix(o));
    // The standard error of a correlation of 50,000 pairs is 0.0045.
    expect(
      Math.abs(
        correlation(
          (k) => at(k, 1),
          (k) => at(k, 2),
        ),
      ),
    ).toBeLessThan(0.015);
    expect(
      Math.abs(
        correlation(
          (k) => at(k, 1),
          (k) => at(k + 1, 1),
        ),
      ),
    ).toBeLessThan(0.015);
  });

  it('are the same for the same seed, scenario and stream, and never 0 or 1', () => {
    expect(uniform(scenarioSeed(1, 2), 3)).toBe(uniform(scenarioSeed(1, 2), 3));
    expect(uniform(scenarioSeed(1, 2), 3)).not.toBe(uniform(scenarioSeed(2, 2), 3));
    expect(draws(10_000, (k) => uniform(k, 0)).every((value) => value > 0 && value < 1)).toBe(true);
  });
});
