import jStat from 'jstat';
import { describe, expect, it } from 'vitest';
import { normalProbability, normalQuantile } from '../../../src/promise/spread/standard-normal.ts';

describe('the standard normal distribution', () => {
  it('has the percentage points of the published tables', () => {
    // Abramowitz and Stegun, "Handbook of Mathematical Functions" (1964), table 26.5 and 26.1.
    expect(normalQuantile(0.95)).toBeCloseTo(1.64485362695147, 12);
    expect(normalQuantile(0.975)).toBeCloseTo(1.95996398454005, 12);
    expect(normalQuantile(0.99)).toBeCloseTo(2.32634787404084, 12);
    expect(normalProbability(1)).toBeCloseTo(0.84134474606854, 12);
    expect(normalProbability(-3)).toBeCloseTo(0.00134989803163, 13);
  });

  it.each([
    [0, 0.5],
    [0.5, 0.6914624613],
    [1.6448536, 0.95],
    [1.959964, 0.975],
    [2.3263479, 0.99],
    [3, 0.998650102],
  ])('has below %f deviations a share of %f, as the tables say', (z, share) => {
    expect(normalProbability(z)).toBeCloseTo(share, 8);
    expect(normalProbability(-z)).toBeCloseTo(1 - share, 8);
  });

  it('gives the values Wichura prints to check an implementation', () => {
    // Algorithm AS 241 (1988), section "Test results" of PPND16.
    expect(normalQuantile(0.25)).toBeCloseTo(-0.67448975019608, 13);
    expect(normalQuantile(0.001)).toBeCloseTo(-3.09023230616781, 12);
    expect(normalQuantile(1e-20)).toBeCloseTo(-9.2623400897984, 11);
  });

  it('agrees with jStat from 1 in a million to 999,999 in a million', () => {
    for (const p of [1e-6, 0.001, 0.02, 0.1, 0.3, 0.5, 0.7, 0.9, 0.98, 0.999, 1 - 1e-6]) {
      expect(normalQuantile(p)).toBeCloseTo(jStat.normal.inv(p, 0, 1), 6);
    }
    for (let z = -5; z <= 5; z += 0.37) expect(normalProbability(z)).toBeCloseTo(jStat.normal.cdf(z, 0, 1), 6);
  });

  it('has a quantile for every probability and a probability for every quantile', () => {
    for (let p = 0.0005; p < 1; p += 0.0131) expect(normalProbability(normalQuantile(p))).toBeCloseTo(p, 13);
    expect(normalProbability(40)).toBe(1);
    expect(normalProbability(-40)).toBe(0);
  });
});
