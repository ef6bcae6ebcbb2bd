import { describe, expect, it } from 'vitest';
import type { Operation } from '../../../src/engine/problem/problem.ts';
import { shareWithin } from '../../../src/promise/simulate/sample-quantile.ts';
import { simulate } from '../../../src/promise/simulate/simulate.ts';
import { fromMoments, meanOf, varianceOf } from '../../../src/promise/spread/log-normal.ts';
import { tradeFactor } from '../../../src/promise/spread/trade-prior.ts';
import { threePoint } from '../../../src/trade/work-content/spread.ts';
import { certain, follows, meanAndVariance, operation, planned, problemOf } from './small-problem.ts';

/** Large units, so that whole minutes do not show. */
const UNIT = 1000;

describe('a chain of work', () => {
  it('takes the sum of the means, with the sum of the variances', () => {
    const works = [30, 120, 45, 200, 90].map((minutes) => minutes * UNIT);
    const spreads = [0.1, 0.3, 0.2, 0.15, 0.4];
    const operations = works.map((work, k) => operation(`work ${k}`, { work }));
    const ends = works.map((_, k) => works.slice(0, k + 1).reduce((sum, work) => sum + work, 0));
    const result = simulate({
      problem: problemOf({ operations, lags: [0, 1, 2, 3].map((k) => follows(k, k + 1)) }),
      schedule: planned(ends.map((end, k) => [end - works[k]!, end])),
      factors: spreads.map((spread) => fromMoments(1.1, spread ** 2)),
      scenarios: 20_000,
      seed: 1,
    });
    const factors = spreads.map((spread) => fromMoments(1.1, spread ** 2));
    const mean = factors.reduce((sum, factor, k) => sum + works[k]! * meanOf(factor), 0);
    const variance = factors.reduce((sum, factor, k) => sum + works[k]! ** 2 * varianceOf(factor), 0);
    const found = meanAndVariance(result.jobs[0]!.ready);
    // Three standard errors of the mean; the variance of a skewed sum of 20,000 errs by some 2 %.
    expect(Math.abs(found.mean - mean)).toBeLessThan(3 * Math.sqrt(variance / 20_000));
    expect(found.variance / variance).toBeGreaterThan(0.93);
    expect(found.variance / variance).toBeLessThan(1.07);
  });

  it('that shares its luck spreads by the sum of the deviations instead', () => {
    const shared = { logMean: 0, logDeviation: 0, shared: [{ group: 0, logDeviation: 0.2 }] };
    const operations = [0, 1, 2, 3].map((k) => operation(`work ${k}`, { work: 100 * UNIT }));
    const result = simulate({
      problem: problemOf({ operations, lags: [0, 1, 2].map((k) => follows(k, k + 1)) }),
      schedule: planned([0, 1, 2, 3].map((k) => [k * 100 * UNIT, (k + 1) * 100 * UNIT])),
      factors: operations.map(() => shared),
      scenarios: 20_000,
      seed: 2,
    });
    const { variance } = meanAndVariance(result.jobs[0]!.ready);
    const whole = varianceOf({ logMean: Math.log(400 * UNIT), logDeviation: 0.2 });
    expect(variance / whole).toBeGreaterThan(0.95);
    expect(variance / whole).toBeLessThan(1.05);
  });
});

/**
 * F. S. Hillier and G. J. Lieberman, "Introduction to Operations Research", chapter on project management with PERT/CPM:
 * the construction project with activities A to N, three-point estimates in weeks, from memory. Published results: mean critical
 * path A-B-C-E-F-J-L-N of 44 weeks with variance 9, so that a deadline of 47 weeks is met with probability 0.84 as far as
 * that path goes.
 */
const activities: Record<string, readonly [number, number, number, string]> = {
  A: [1, 2, 3, ''],
  B: [2, 3.5, 8, 'A'],
  C: [6, 9, 18, 'B'],
  D: [4, 5.5, 10, 'C'],
  E: [1, 4.5, 5, 'C'],
  F: [4, 4, 10, 'E'],
  G: [5, 6.5, 11, 'D'],
  H: [5, 8, 17, 'EG'],
  I: [3, 7.5, 9, 'C'],
  J: [3, 9, 9, 'FI'],
  K: [4, 4, 4, 'J'],
  L: [1, 5.5, 7, 'J'],
  M: [1, 2, 3, 'H'],
  N: [5, 5.5, 9, 'KL'],
};

function project(names: readonly string[], spread: boolean) {
  const starts = new Map<string, number>();
  const operations: Operation[] = [];
  const times: [number, number][] = [];
  const factors = [];
  const lags = [];
  for (const name of names) {
    const [optimistic, likely, pessimistic, before] = activities[name]!;
    const points = threePoint(optimistic, likely, pessimistic);
    const work = Math.round(likely * UNIT);
    const befores = [...before].filter((each) => names.includes(each));
    const start = Math.max(0, ...befores.map((each) => starts.get(each)!));
    starts.set(name, start + work);
    for (const each of befores) lags.push(follows(names.indexOf(each), operations.length));
    operations.push(operation(name, { work }));
    times.push([start, start + work]);
    factors.push(spread ? tradeFactor(points) : { logMean: Math.log(points.mean / likely), logDeviation: 0 });
  }
  const input = { problem: problemOf({ operations, lags }), schedule: planned(times), factors };
  return simulate({ ...input, scenarios: spread ? 20_000 : 1, seed: 3 }).jobs[0]!.ready;
}

describe('the textbook construction project', () => {
  const all = Object.keys(activities);

  it('takes 44 weeks when every activity takes its mean', () => {
    expect(project(all, false)[0]! / UNIT).toBeCloseTo(44, 2);
  });

  it('has the published mean, variance and probability along its mean critical path', () => {
    const path = project([...'ABCEFJLN'], true);
    const { mean, variance } = meanAndVariance(path);
    expect(mean / UNIT).toBeCloseTo(44, 0);
    expect(variance / UNIT ** 2).toBeGreaterThan(8.6);
    expect(variance / UNIT ** 2).toBeLessThan(9.4);
    // Normal approximation of the book: 0.8413. The sum of log-normals is slightly skewed.
    expect(Math.abs(shareWithin(path, 47 * UNIT) - 0.8413)).toBeLessThan(0.02);
  });

  it('takes longer than its mean critical path, other paths being as long by chance', () => {
    // Merge event bias: K. R. MacCrimmon and C. A. Ryavec, Operations Research 12 (1964).
    const whole = project(all, true);
    const path = project([...'ABCEFJLN'], true);
    // Ten standard errors of the mean of 20,000 with variance 9.
    expect(meanAndVariance(whole).mean / UNIT).toBeGreaterThan(44.2);
    expect(shareWithin(whole, 47 * UNIT)).toBeLessThan(shareWithin(path, 47 * UNIT) - 0.01);
  });
});

describe('a factor that is certain', () => {
  it('leaves the plan as it is', () => {
    const operations = [operation('one', { work: 30 }), operation('two', { work: 40 })];
    const { jobs } = simulate({
      problem: problemOf({ operations, lags: [follows(0, 1, { min: 15 })] }),
      schedule: planned([
        [0, 30],
        [45, 85],
      ]),
      factors: [certain, certain],
      scenarios: 3,
      seed: 1,
    });
    expect([...jobs[0]!.ready]).toEqual([85, 85, 85]);
  });
});
