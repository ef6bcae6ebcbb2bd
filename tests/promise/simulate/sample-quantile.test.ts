import { describe, expect, it } from 'vitest';
import { sampleQuantile, shareWithin } from '../../../src/promise/simulate/sample-quantile.ts';

describe('a quantile of scenarios', () => {
  it('is the least value that the asked share does not exceed', () => {
    // Hyndman and Fan (1996), definition 1, as R's quantile(c(1, 2, 3, 4, 5), type = 1).
    const sample = [1, 2, 3, 4, 5];
    expect([0, 0.2, 0.21, 0.5, 0.8, 0.81, 1].map((p) => sampleQuantile(sample, p))).toEqual([1, 1, 2, 3, 4, 5, 5]);
  });

  it('is kept with at least the probability it is promised at', () => {
    const sample = Array.from({ length: 100 }, (_, k) => k * k);
    for (let percent = 1; percent < 100; percent++) {
      expect(shareWithin(sample, sampleQuantile(sample, percent / 100))).toBeCloseTo(percent / 100, 12);
    }
  });

  it('needs a sample and a probability', () => {
    expect(() => sampleQuantile([], 0.5)).toThrow('ascending is empty');
    expect(() => sampleQuantile([1], 1.5)).toThrow('p is 1.5');
  });
});
