import { describe, expect, it } from 'vitest';
import { simulate } from '../../../src/promise/simulate/simulate.ts';
import { certain, DAY, follows, hours, operation, planned, problemOf } from '../simulate/small-problem.ts';

const byBen = (work: number) => ({ work, uses: [{ resource: 0, amount: 100 }] });
const uncertain = { logMean: 0, logDeviation: 0.4 };

describe('what is to blame for a late car', () => {
  // Car 2 waits for Ben, who polishes car 1 first; washing car 2 is done long before.
  const problem = problemOf({
    resources: [{ name: 'Ben', capacity: 100, kind: 'person' }],
    operations: [
      operation('polish car 1', byBen(300)),
      operation('wash car 2', { work: 30 }, { job: 1 }),
      operation('polish car 2', byBen(100), { job: 1 }),
    ],
    jobs: [
      { name: 'car 1', stays: [], release: 0 },
      { name: 'car 2', stays: [], release: 0, ready: 2, promise: { at: 430, weight: 1 } },
    ],
    lags: [follows(1, 2)],
  });
  const schedule = planned([
    [0, 300],
    [0, 30],
    [300, 400],
  ]);
  const { jobs } = simulate({
    problem,
    schedule,
    factors: [uncertain, uncertain, uncertain],
    scenarios: 2000,
    seed: 5,
  });
  const { blame, promiseKept } = jobs[1]!;

  it('is the work on the chain that overran most, on whatever car it was', () => {
    expect(blame.operations[0]!.operation).toBe(0);
    expect(blame.operations[0]!.shareOfLate).toBe(1);
    expect(blame.operations[0]!.overrunMinutes).toBeGreaterThan(60);
  });

  it('is not work that had time to spare', () => {
    expect(blame.operations.map(({ operation }) => operation)).not.toContain(1);
  });

  it('is the person who was waited for', () => {
    expect(blame.resources).toEqual([{ kind: 'person', about: 0, shareOfLate: 1 }]);
  });

  it('counts as late what breaks the promise', () => {
    expect(blame.late).toBeCloseTo(1 - promiseKept!, 12);
    expect(blame.late).toBeGreaterThan(0.2);
  });

  it('is nothing when nothing is late', () => {
    const onTime = simulate({ problem, schedule, factors: [certain, certain, certain], scenarios: 10, seed: 1 });
    expect(onTime.jobs[1]!.blame).toEqual({ late: 0, operations: [], resources: [] });
  });
});

describe('a car that is late because everybody has gone home', () => {
  it('blames the hours', () => {
    const problem = problemOf({
      progresses: [hours(4)],
      operations: [
        operation('polish', { work: 200, progress: 0 }, { pausable: true }),
        operation('inspect', { work: 60, progress: 0 }),
      ],
      jobs: [{ name: 'car', stays: [], release: 780, ready: 1, promise: { at: 1020, weight: 1 } }],
      lags: [follows(0, 1)],
    });
    const schedule = planned([
      [780, 980],
      [DAY + 480, DAY + 540],
    ]);
    const { jobs } = simulate({ problem, schedule, factors: [certain, certain], scenarios: 5, seed: 1 });
    expect(jobs[0]!.promiseKept).toBe(0);
    expect(jobs[0]!.blame.resources).toEqual([{ kind: 'hours', about: -1, shareOfLate: 1 }]);
  });
});

describe('two ways of equal length to a deadline', () => {
  it('are each on the chain in half of the scenarios', () => {
    // Van Slyke's criticality index of symmetric paths is one half.
    const problem = problemOf({
      operations: [
        operation('left', { work: 1000 }),
        operation('right', { work: 1000 }),
        operation('join', { work: 0 }),
      ],
      jobs: [{ name: 'car', stays: [], release: 0, ready: 2, promise: { at: 0, weight: 1 } }],
      lags: [follows(0, 2), follows(1, 2)],
    });
    const schedule = planned([
      [0, 1000],
      [0, 1000],
      [1000, 1000],
    ]);
    const input = { problem, schedule, factors: [uncertain, uncertain, certain], scenarios: 100 };
    // The chains of the first hundred late scenarios are followed; ten seeds make a thousand.
    let left = 0;
    for (let seed = 1; seed <= 10; seed++) {
      const { operations } = simulate({ ...input, seed }).jobs[0]!.blame;
      left += operations.find(({ operation }) => operation === 0)!.shareOfLate / 10;
    }
    // Three standard errors of one half in a thousand.
    expect(Math.abs(left - 0.5)).toBeLessThan(0.048);
  });
});
