import { describe, expect, test } from 'vitest';
import { blankProblem, work } from '../random/blank-problem.ts';
import { brokenRules } from './changed.ts';

/** Polishing is capped at 300 minutes a day; two cars polish for 200 minutes each. */
const windows = [
  { from: 0, to: 1440 },
  { from: 1440, to: 2880 },
];
const polish = (name: string) => work(name, 0, 200, { modes: [{ work: 200, uses: [], budget: 0 }], pausable: true });
const problem = blankProblem({
  budgets: [{ name: 'machine hours', windows, limit: 300 }],
  jobs: [{ name: 'car', stays: [], release: 0 }],
  operations: [polish('compound'), polish('finish')],
});

const from = (first: number, second: number) => ({
  operations: [first, second].map((start) => ({ start, end: start + 200, mode: 0 })),
  stays: [],
});

describe('the machine hours of a day', () => {
  test('are shared by all that draws on them', () => {
    expect(brokenRules(problem, from(0, 500))).toEqual(['3 budget']);
    expect(brokenRules(problem, from(0, 1440))).toEqual([]);
  });

  test('count by the day in which they are worked', () => {
    expect(brokenRules(problem, from(0, 1340))).toEqual([]);
    expect(brokenRules(problem, from(0, 1339))).toEqual(['3 budget']);
  });

  test('spent as facts are not judged, but leave less for what is planned', () => {
    const fact = (start: number) => ({ fixed: { start, mode: 0, by: 'fact' as const } });
    const spent = (operations: typeof problem.operations) => ({ ...problem, now: 800, operations });
    const [first, second] = problem.operations as [(typeof problem.operations)[0], (typeof problem.operations)[0]];
    expect(
      brokenRules(
        spent([
          { ...first, ...fact(0) },
          { ...second, ...fact(500) },
        ]),
        from(0, 500),
      ),
    ).toEqual([]);
    expect(brokenRules(spent([{ ...first, ...fact(0) }, second]), from(0, 900))).toEqual(['3 budget']);
  });
});
