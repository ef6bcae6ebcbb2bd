import { describe, expect, it } from 'vitest';
import { realise } from '../../../src/promise/simulate/realise.ts';
import type { ExecutionRules } from '../../../src/promise/simulate/simulation-input.ts';
import { certain, DAY, meanAndVariance, operation, planned, problemOf } from './small-problem.ts';

const SCENARIOS = 3_000;
const MINUTES = 500;
const FIRST_HOUR = 480;

/** Logarithms of how many times its minutes one piece of work took on each of two days in a row, scenario by scenario. */
function twoDays(rules: Partial<ExecutionRules>): readonly [Float64Array, Float64Array] {
  const resources = [0, 1].map((p) => ({ name: `person ${p}`, capacity: 100, kind: 'person' as const }));
  const byPerson = (p: number) => ({ work: MINUTES, uses: [{ resource: p, amount: 100 }] });
  const problem = problemOf({
    horizon: 10 * DAY,
    resources,
    operations: [operation('polish', byPerson(0)), operation('polish', byPerson(1), { job: 1 })],
  });
  const starts = [FIRST_HOUR, DAY + FIRST_HOUR];
  const input = {
    problem,
    schedule: planned(starts.map((start) => [start, start + MINUTES])),
    factors: [certain, certain],
    rules: { starts: 'notBeforePlanned' as const, ...rules },
    scenarios: SCENARIOS,
    seed: 7,
  };
  const logs = [new Float64Array(SCENARIOS), new Float64Array(SCENARIOS)] as const;
  for (let s = 0; s < SCENARIOS; s++) {
    const { operations } = realise(input, s).schedule;
    for (const [j, log] of logs.entries()) log[s] = Math.log((operations[j]!.end - starts[j]!) / MINUTES);
  }
  return logs;
}

function correlation(a: Float64Array, b: Float64Array): number {
  const of = [a, b].map(meanAndVariance);
  let product = 0;
  for (let k = 0; k < a.length; k++) product += (a[k]! - of[0]!.mean) * (b[k]! - of[1]!.mean);
  return product / (a.length - 1) / Math.sqrt(of[0]!.variance * of[1]!.variance);
}

describe('work on good and bad days', () => {
  it('takes longer or shorter by the day, each day by itself, when nothing more is known', () => {
    const [first, second] = twoDays({ dayLogDeviation: 0.2 });
    // Standard errors with 3,000 runs: 0.0026 of a deviation, 0.018 of a correlation.
    for (const each of [first, second]) expect(Math.sqrt(meanAndVariance(each).variance)).toBeCloseTo(0.2, 1.7);
    expect(Math.abs(correlation(first, second))).toBeLessThan(0.06);
  });

  it('of a row leans on the day before as much as said, and each day varies no more for it', () => {
    const [first, second] = twoDays({ dayLogDeviation: 0.2, runs: { share: 1, withDayBefore: 0.6 } });
    for (const each of [first, second]) expect(Math.sqrt(meanAndVariance(each).variance)).toBeCloseTo(0.2, 1.7);
    expect(correlation(first, second)).toBeGreaterThan(0.55);
    expect(correlation(first, second)).toBeLessThan(0.65);
  });

  it('lies as the recorded days lie: one in five slow by two deviations, the others half a deviation quick', () => {
    // Mean 0, variance 0.2 * 4 + 0.8 * 0.25 = 1.
    const dayQuantiles = [-0.5, -0.5, -0.5, -0.5, -0.5, -0.5, -0.5, -0.5, 2, 2];
    for (const share of [0, 0.5]) {
      const runs = { share, withDayBefore: 0.8 };
      for (const days of twoDays({ dayLogDeviation: 0.1, dayQuantiles, runs })) {
        const slow = days.filter((log) => log > 0.05).length / SCENARIOS;
        expect(Math.abs(slow - 0.2)).toBeLessThan(0.03);
        expect(Math.min(...days)).toBeCloseTo(-0.05, 2);
        expect(Math.max(...days)).toBeCloseTo(0.2, 2);
      }
    }
  });

  it('is half in runs and half by the day: what two days have in common is the share of the run', () => {
    const [first, second] = twoDays({ dayLogDeviation: 0.2, runs: { share: 0.5, withDayBefore: 0.8 } });
    // 0.5 of the variance, 0.8 of which goes on to the next day.
    expect(Math.abs(correlation(first, second) - 0.4)).toBeLessThan(0.05);
  });

  it('begins where the run stands that is known of, and leaves it day by day', () => {
    const today = { luck: 2, variance: 0 };
    const [first, second] = twoDays({ dayLogDeviation: 0.1, runs: { share: 1, withDayBefore: 0.5 }, today });
    // To the minute of 500: 0.002. The second day: half of it on average, with 1 - 0.25 of the variance left.
    for (const log of first) expect(Math.abs(log - 0.2)).toBeLessThan(0.002);
    const { mean, variance } = meanAndVariance(second);
    expect(Math.abs(mean - 0.1)).toBeLessThan(0.006);
    expect(Math.abs(Math.sqrt(variance) - 0.1 * Math.sqrt(0.75))).toBeLessThan(0.004);
  });
});
