import { describe, expect, it } from 'vitest';
import { brierScore, pinballLoss, quantileLoss } from '../../../src/promise/calibrate/scores.ts';
import { seededRandom } from '../../engine/random/seeded-random.ts';
import { outcome } from './outcome.ts';

describe('scores of promises', () => {
  it('are Brier’s, worked by hand', () => {
    // (0.9 - 1)^2 = 0.01 kept, (0.9 - 0)^2 = 0.81 broken; Brier (1950).
    expect(brierScore([outcome(), outcome({ achievedAt: 1001 })])).toBeCloseTo(0.41, 12);
  });

  it('are Brier’s decomposition when all are given at one confidence', () => {
    // A. H. Murphy (1973): reliability + uncertainty, resolution being 0 with one forecast value.
    const kept = Array.from({ length: 40 }, (_, k) => outcome({ confidence: 0.8, achievedAt: k < 28 ? 990 : 1200 }));
    expect(brierScore(kept)).toBeCloseTo((0.8 - 0.7) ** 2 + 0.7 * 0.3, 12);
  });

  it('weigh minutes late by the confidence and minutes early by the rest', () => {
    expect(pinballLoss([outcome({ achievedAt: 1100 }), outcome({ achievedAt: 900 })])).toBeCloseTo(
      (0.9 * 100 + 0.1 * 100) / 2,
      12,
    );
  });

  it('are least, by the pinball loss, at the quantile of what happened', () => {
    // Koenker and Bassett (1978).
    const random = seededRandom(8);
    const achieved = Array.from({ length: 999 }, () => random.whole(0, 100_000));
    const ascending = [...achieved].sort((a, b) => a - b);
    const loss = (at: number) => achieved.reduce((sum, value) => sum + quantileLoss(value, at, 0.8), 0);
    const best = ascending[Math.ceil(0.8 * 999) - 1]!;
    for (const other of [ascending[700]!, ascending[790]!, ascending[805]!, ascending[900]!]) {
      expect(loss(best)).toBeLessThanOrEqual(loss(other));
    }
  });

  it('need at least one promise', () => {
    expect(() => brierScore([])).toThrow('outcomes is empty');
  });
});
