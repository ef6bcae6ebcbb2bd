import { describe, expect, it } from 'vitest';
import { compilePlan } from '../../../src/promise/simulate/compile-plan.ts';
import { Replay } from '../../../src/promise/simulate/replay.ts';
import { commonRules, type WorkFactor } from '../../../src/promise/simulate/simulation-input.ts';
import { follows, operation, planned, problemOf } from './small-problem.ts';

const CUSTOMERS = 1200;
/** The queue starts empty; the first customers are not counted. */
const WARM_UP = 300;
const SCENARIOS = 150;

/** Mean wait of the Erlang C queue: A. K. Erlang (1917); D. Gross and C. M. Harris, "Fundamentals of Queueing Theory". */
function erlangWait(servers: number, load: number, serviceMinutes: number): number {
  let sum = 0;
  let term = 1;
  for (let k = 0; k < servers; k++) {
    sum += term;
    term *= load / (k + 1);
  }
  const top = (term * servers) / (servers - load);
  return ((top / (sum + top)) * serviceMinutes) / (servers - load);
}

/** Customers come one random gap after another and are served, in turn, by whichever unit of the equipment is free first. */
function simulatedWait(servers: number, load: number, serviceMinutes: number): number {
  const gap = Math.round(serviceMinutes / load);
  const exponential: WorkFactor = { logMean: 0, logDeviation: 1, law: 'exponential' };
  const operations = Array.from({ length: CUSTOMERS }, () => [
    operation('gap', { work: gap }),
    operation('service', { work: serviceMinutes, uses: [{ resource: 0, amount: 1 }] }),
  ]).flat();
  const lags = Array.from({ length: CUSTOMERS }, (_, k) => [
    ...(k > 0 ? [follows(2 * k - 2, 2 * k)] : []),
    follows(2 * k, 2 * k + 1),
  ]).flat();
  // A plan with regular gaps in which nobody waits: only its order counts.
  const times = Array.from({ length: CUSTOMERS }, (_, k): [number, number][] => [
    [k * gap, (k + 1) * gap],
    [(k + 1) * gap, (k + 1) * gap + Math.min(serviceMinutes, gap * servers)],
  ]).flat();
  const problem = problemOf({
    operations,
    lags,
    resources: [{ name: 'stations', capacity: servers, kind: 'equipment' }],
  });
  const schedule = planned(times);
  const factors = operations.map(() => exponential);
  const replay = new Replay(
    compilePlan(problem, schedule, commonRules),
    { problem, schedule, factors, scenarios: SCENARIOS, seed: 5 },
    commonRules,
  );
  let waited = 0;
  for (let s = 0; s < SCENARIOS; s++) {
    replay.run(s);
    for (let k = WARM_UP; k < CUSTOMERS; k++) waited += replay.start[2 * k + 1]! - replay.end[2 * k]!;
  }
  return waited / (SCENARIOS * (CUSTOMERS - WARM_UP));
}

describe('a queue for interchangeable equipment', () => {
  for (const [servers, load] of [
    [1, 0.6],
    [2, 1.4],
    [4, 3],
  ] as const) {
    it(`of ${servers} with load ${load} makes customers wait as Erlang’s formula says`, () => {
      const expected = erlangWait(servers, load, 10_000);
      expect(Math.abs(simulatedWait(servers, load, 10_000) / expected - 1)).toBeLessThan(0.04);
    });
  }

  it('is judged by a formula that gives the textbook’s M/M/1 wait', () => {
    // rho / (1 - rho) service times.
    expect(erlangWait(1, 0.6, 100)).toBeCloseTo((0.6 / 0.4) * 100, 9);
  });
});
