import { describe, expect, test } from 'vitest';
import type { Job, Problem } from '../../../src/engine/problem/problem.ts';
import { brokenRules, changed } from './changed.ts';
import { Op, twoCarDay, twoCarPlan } from './two-car-day.ts';

/** The red coupe is dropped off at 585, and its handover lies from 765 to 795. */
const withJob = (given: Partial<Job>): Problem => ({
  ...twoCarDay,
  jobs: twoCarDay.jobs.map((job, j) => (j === 1 ? { ...job, ...given } : job)),
});

describe('opening hours', () => {
  test.each([
    [{ dropOffOpen: [{ from: 585, to: 586 }] }, []],
    [{ dropOffOpen: [{ from: 500, to: 585 }] }, ['9 drop-off-closed']],
    [{ release: 586 }, ['9 drop-off-early']],
    [{ pickupOpen: [{ from: 765, to: 766 }] }, []],
    [{ pickupOpen: [{ from: 766, to: 900 }] }, ['9 pickup-closed']],
    [{ dropOffOpen: [] }, ['9 drop-off-closed']],
  ])('%j break %j', (given, rules) => {
    expect(brokenRules(withJob(given), twoCarPlan)).toEqual(rules);
  });

  test('are those of the last stay when there is no handover', () => {
    const { handover: _, ...job } = twoCarDay.jobs[1]!;
    const jobs = [twoCarDay.jobs[0]!, { ...job, pickupOpen: [{ from: 795, to: 796 }] }];
    expect(brokenRules({ ...twoCarDay, jobs }, twoCarPlan)).toEqual([]);
    expect(brokenRules({ ...twoCarDay, jobs }, changed(twoCarPlan, {}, { 3: { to: 796 } }))).toEqual([
      '9 pickup-closed',
    ]);
  });
});

describe('intake and handover', () => {
  test('begin and end the visit', () => {
    expect(
      brokenRules(
        twoCarDay,
        changed(
          twoCarPlan,
          {
            [Op.otherIntake]: { start: 586, end: 606 },
            [Op.otherWash]: { start: 606, end: 666 },
            [Op.otherMove]: { start: 666, end: 676 },
          },
          { 2: { to: 676 }, 3: { from: 676 } },
        ),
      ),
    ).toEqual(['9 arrival']);
    expect(brokenRules(twoCarDay, changed(twoCarPlan, {}, { 3: { to: 796 } }))).toEqual(['9 handover']);
  });

  test('that happened after hours are facts', () => {
    const problem = withJob({ dropOffOpen: [] });
    const operations = problem.operations.map((operation, o) =>
      o === Op.otherIntake ? { ...operation, fixed: { start: 585, mode: 1, by: 'fact' as const } } : operation,
    );
    expect(brokenRules({ ...problem, operations }, twoCarPlan)).toEqual([]);
  });
});
