import jStat from 'jstat';
import { describe, expect, it } from 'vitest';
import {
  fromMoments,
  meanOf,
  medianOf,
  probabilityWithin,
  quantileOf,
  varianceOf,
} from '../../../src/promise/spread/log-normal.ts';
import { tradeFactor } from '../../../src/promise/spread/trade-prior.ts';
import { threePoint } from '../../../src/trade/work-content/spread.ts';

describe('a log-normal duration', () => {
  const cases = [
    [0, 0.1],
    [3.2, 0.25],
    [4.5, 0.6],
  ] as const;

  it('has the moments, quantiles and probabilities that jStat gives', () => {
    for (const [logMean, logDeviation] of cases) {
      const duration = { logMean, logDeviation };
      expect(meanOf(duration) / jStat.lognormal.mean(logMean, logDeviation)).toBeCloseTo(1, 10);
      expect(varianceOf(duration) / jStat.lognormal.variance(logMean, logDeviation)).toBeCloseTo(1, 10);
      expect(medianOf(duration) / jStat.lognormal.median(logMean, logDeviation)).toBeCloseTo(1, 10);
      for (const p of [0.05, 0.5, 0.8, 0.9, 0.99]) {
        const at = jStat.lognormal.inv(p, logMean, logDeviation);
        expect(quantileOf(duration, p) / at).toBeCloseTo(1, 5);
        expect(probabilityWithin(duration, at)).toBeCloseTo(p, 5);
      }
    }
  });

  it('is found back from its mean and variance', () => {
    for (const [logMean, logDeviation] of cases) {
      const found = fromMoments(meanOf({ logMean, logDeviation }), varianceOf({ logMean, logDeviation }));
      expect(found.logMean).toBeCloseTo(logMean, 10);
      expect(found.logDeviation).toBeCloseTo(logDeviation, 10);
    }
  });

  it('that is certain is within its value or not', () => {
    const certain = { logMean: Math.log(40), logDeviation: 0 };
    expect(quantileOf(certain, 0.9)).toBeCloseTo(40, 12);
    expect([39, 40.001, -1].map((minutes) => probabilityWithin(certain, minutes))).toEqual([0, 1, 0]);
  });

  it('cannot have a mean that is not positive', () => {
    expect(() => fromMoments(0, 1)).toThrow('mean is 0');
    expect(() => fromMoments(1, -1)).toThrow('variance is -1');
  });
});

describe('the trade’s factor', () => {
  it('has the mean and standard deviation of the three points', () => {
    // Malcolm, Roseboom, Clark and Fazar (1959): mean (a + 4 m + b) / 6, standard deviation (b - a) / 6.
    const points = threePoint(48, 60, 90);
    const factor = tradeFactor(points);
    expect(60 * meanOf(factor)).toBeCloseTo((48 + 240 + 90) / 6, 10);
    expect(60 * Math.sqrt(varianceOf(factor))).toBeCloseTo((90 - 48) / 6, 10);
  });

  it('of work that takes no time is certain', () => {
    expect(tradeFactor(threePoint(0, 0, 0))).toEqual({ logMean: 0, logDeviation: 0 });
  });
});
