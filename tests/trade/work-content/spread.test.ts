import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { WorkKind } from '../../../src/trade/model/recipe.ts';
import { spread, threePoint } from '../../../src/trade/work-content/spread.ts';

describe('a three-point estimate', () => {
  // Malcolm, Roseboom, Clark, Fazar (1959): mean (a + 4m + b) / 6, standard deviation (b - a) / 6. By hand.
  it.each([
    [2, 4, 12, 5, 10 / 6],
    [30, 60, 90, 60, 10],
    [5, 5, 5, 5, 0],
  ])('of %d, %d, %d has the mean %d', (optimistic, likely, pessimistic, mean, deviation) => {
    const estimate = threePoint(optimistic, likely, pessimistic);
    expect(estimate.mean).toBeCloseTo(mean, 12);
    expect(estimate.standardDeviation).toBeCloseTo(deviation, 12);
  });

  it('refuses points out of order', () => {
    expect(() => threePoint(10, 5, 20)).toThrow(RangeError);
  });

  it('of every kind of work brackets its likely minutes and leans to the late side', () => {
    fc.assert(
      fc.property(fc.constantFrom(...WorkKind.options), fc.integer({ min: 0, max: 600 }), (kind, likely) => {
        const estimate = spread(kind, likely);
        expect(estimate.optimistic).toBeLessThanOrEqual(likely);
        expect(estimate.pessimistic).toBeGreaterThanOrEqual(likely);
        // The customer who answers before the deadline is the one thing that only comes early.
        if (kind !== 'customerAnswer') expect(estimate.mean).toBeGreaterThanOrEqual(likely - 1e-9);
      }),
      { seed: 14, numRuns: 300 },
    );
  });
});
