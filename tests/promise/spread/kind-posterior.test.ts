import { describe, expect, it } from 'vitest';
import { effectOf, kindPosterior } from '../../../src/promise/spread/kind-posterior.ts';
import { logRatio } from '../../../src/promise/spread/recorded-duration.ts';
import { commonWeights } from '../../../src/promise/spread/trade-prior.ts';
import { records } from './synthetic-records.ts';

const prior = { logMean: 0.05, logDeviation: 0.12 };
const half = Math.log(1.5);

describe('what is believed of a kind of work', () => {
  it('is the trade’s prior while nothing is recorded', () => {
    const posterior = kindPosterior([], prior, commonWeights);
    expect(effectOf(posterior, null, null).mean).toBeCloseTo(0.05, 12);
    expect(Math.sqrt(posterior.variance)).toBeCloseTo(0.12, 12);
  });

  it('is the conjugate normal’s precision-weighted mean when people and conditions do not matter', () => {
    // Gelman et al., Bayesian Data Analysis, section 2.5: (k0 m0 + n ybar) / (k0 + n) with the prior worth k0 observations.
    const seen = records(12, { logMean: 0.3, logDeviation: 0.12 });
    const mean = seen.map(logRatio).reduce((sum, y) => sum + y, 0) / seen.length;
    // A spread that weighs as much as a billion records stays at the prior's.
    const posterior = kindPosterior(seen, prior, { ...commonWeights, spreadRecords: 1e9 });
    const { mean: learned, variance } = effectOf(posterior, null, null);
    expect(learned).toBeCloseTo((5 * 0.05 + 12 * mean) / 17, 6);
    expect(variance).toBeCloseTo(0.12 ** 2 / 17, 6);
  });

  it('is not overruled by three records, and is by three hundred', () => {
    const learned = (count: number) =>
      Math.exp(
        effectOf(kindPosterior(records(count, { logMean: half, logDeviation: 0.12 }), prior, commonWeights), null, null)
          .mean,
      );
    expect(learned(3)).toBeLessThan(1.25);
    expect(learned(3)).toBeGreaterThan(1.05);
    expect(learned(300)).toBeGreaterThan(1.47);
    expect(learned(300)).toBeLessThan(1.53);
  });

  it('learns the spread the floor shows', () => {
    const posterior = kindPosterior(records(400, { logMean: 0, logDeviation: 0.3 }), prior, commonWeights);
    expect(Math.sqrt(posterior.variance)).toBeGreaterThan(0.27);
    expect(Math.sqrt(posterior.variance)).toBeLessThan(0.32);
  });

  it('gives each person their own pace, drawn towards the others while little is known of them', () => {
    const seen = [
      ...records(200, { logMean: 0, logDeviation: 0.12, person: 'Ada', personEffect: -0.2, seed: 2 }),
      ...records(200, { logMean: 0, logDeviation: 0.12, person: 'Ben', personEffect: 0.2, seed: 3 }),
      ...records(2, { logMean: 0, logDeviation: 0.12, person: 'Cy', personEffect: 0.6, seed: 4 }),
    ];
    const posterior = kindPosterior(seen, prior, commonWeights);
    const of = (person: string) => effectOf(posterior, person, null);
    expect(of('Ada').mean).toBeCloseTo(-0.2, 1);
    expect(of('Ben').mean).toBeCloseTo(0.2, 1);
    expect(of('Cy').mean).toBeGreaterThan(0.2);
    expect(of('Cy').mean).toBeLessThan(0.55);
    expect(of('Cy').variance).toBeGreaterThan(of('Ada').variance);
    expect(of('somebody new').variance).toBeGreaterThan(of('Cy').variance);
  });

  it('tells a hard condition from the people who happened to meet it', () => {
    const seen = [
      ...records(150, { logMean: 0, logDeviation: 0.1, person: 'Ada', seed: 5 }),
      ...records(150, {
        logMean: 0,
        logDeviation: 0.1,
        person: 'Ada',
        condition: 'hard paint',
        conditionEffect: 0.25,
        seed: 6,
      }),
      ...records(150, { logMean: 0, logDeviation: 0.1, person: 'Ben', seed: 7 }),
    ];
    const posterior = kindPosterior(seen, prior, commonWeights);
    const harder = effectOf(posterior, 'Ben', 'hard paint').mean - effectOf(posterior, 'Ben', null).mean;
    expect(harder).toBeGreaterThan(0.2);
    expect(harder).toBeLessThan(0.28);
  });
});
