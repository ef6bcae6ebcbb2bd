import { describe, expect, it } from 'vitest';
import { wilsonInterval } from '../../../src/promise/calibrate/wilson-interval.ts';

describe('the Wilson interval', () => {
  it('gives the published figures', () => {
    // R. G. Newcombe, "Two-sided confidence intervals for the single proportion: comparison of seven methods", Statistics
    // in Medicine 17 (1998), table I, method 3 (score without continuity correction), 95 %.
    for (const [happened, trials, from, to] of [
      [81, 263, 0.2553, 0.3662],
      [15, 148, 0.0624, 0.1605],
      [0, 20, 0, 0.1611],
      [1, 29, 0.0061, 0.1718],
    ] as const) {
      const interval = wilsonInterval(happened, trials);
      expect(interval.from).toBeCloseTo(from, 4);
      expect(interval.to).toBeCloseTo(to, 4);
    }
  });

  it('is where the score test just rejects: its ends solve Wilson’s quadratic', () => {
    const { from, to } = wilsonInterval(37, 50, 0.9);
    const z = 1.6448536269514722;
    for (const p of [from, to]) expect(Math.abs(37 / 50 - p) / Math.sqrt((p * (1 - p)) / 50)).toBeCloseTo(z, 8);
  });

  it('names the argument that is out of range', () => {
    expect(() => wilsonInterval(1, 0)).toThrow('trials is 0');
    expect(() => wilsonInterval(5, 4)).toThrow('happened is 5');
    expect(() => wilsonInterval(1, 4, 1)).toThrow('confidence is 1');
  });
});
