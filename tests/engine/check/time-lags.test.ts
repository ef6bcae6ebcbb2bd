import { describe, expect, test } from 'vitest';
import type { Operation, Problem } from '../../../src/engine/problem/problem.ts';
import { at, blankProblem, endToStart, work } from '../random/blank-problem.ts';
import { brokenRules, changed } from './changed.ts';
import { Op, twoCarDay, twoCarPlan } from './two-car-day.ts';

const fact = (start: number): Partial<Operation> => ({ fixed: { start, mode: 0, by: 'fact' } });

function pair(first: Partial<Operation>, second: Partial<Operation>, given: Partial<Problem> = {}): Problem {
  return blankProblem({
    jobs: [{ name: 'car', stays: [], release: 0 }],
    operations: [work('acid', 0, 10, first), work('rinse', 0, 5, second)],
    lags: [endToStart(0, 1, 2, 8)],
    ...given,
  });
}

/** Acid from 100 to 110, the rinse from `start`. */
const rinseAt = (start: number) => ({
  operations: [
    { start: 100, end: 110, mode: 0 },
    { start, end: start + 5, mode: 0 },
  ],
  stays: [],
});

describe('a time lag', () => {
  test.each([
    [111, ['1 lag-min']],
    [112, []],
    [118, []],
    [119, ['1 lag-max']],
  ])('of 2 to 8 minutes after the acid with the rinse at %i breaks %j', (start, rules) => {
    expect(brokenRules(pair({}, {}), rinseAt(start))).toEqual(rules);
  });

  test('between two facts is not judged, from a fact to planned work it is', () => {
    expect(brokenRules(pair(fact(100), fact(140)), rinseAt(140))).toEqual([]);
    expect(brokenRules(pair(fact(100), {}), rinseAt(140))).toEqual(['1 lag-max']);
  });

  test('does not bind when one of its ends is absent', () => {
    const problem = pair({}, { presence: 'optional' });
    expect(brokenRules(problem, { operations: [{ start: 100, end: 110, mode: 0 }, null], stays: [] })).toEqual([]);
  });

  test('from the start to the end of one operation limits its elapsed time', () => {
    const lags = [{ from: at(0, 'start'), to: at(0, 'end'), min: 0, max: 9 }];
    expect(brokenRules(pair({}, {}, { lags }), rinseAt(112))).toEqual(['1 lag-max']);
  });
});

describe('a remedy', () => {
  const lapsed = changed(
    twoCarPlan,
    {
      [Op.rewipe]: { start: 2060, end: 2080, mode: 0 },
      [Op.coat]: { start: 2085, end: 2145 },
      [Op.cure]: { start: 2145, end: 2235 },
      [Op.handover]: { start: 2235, end: 2265 },
      [Op.rinse]: { start: 2295, end: 2295 },
    },
    { 1: { to: 2265 } },
  );
  // The people of the first wipe are held until the coat, so that wiping again needs the other person.
  const byOther = changed(lapsed, { [Op.rewipe]: { mode: 1 } });

  test('makes good a wipe that has gone stale', () => {
    expect(brokenRules(twoCarDay, byOther)).toEqual([]);
  });

  test('that is done by somebody held elsewhere is not possible', () => {
    expect(brokenRules(twoCarDay, lapsed)).toEqual(['3 capacity']);
  });

  test('must be planned when the wipe has gone stale', () => {
    expect(brokenRules(twoCarDay, changed(byOther, { [Op.rewipe]: null }))).toEqual(['1 remedy-missing']);
  });

  test('is not planned while the wipe still holds', () => {
    const early = changed(twoCarPlan, { [Op.rewipe]: { start: 2030, end: 2050, mode: 1 } });
    const coatLater = changed(
      early,
      {
        [Op.coat]: { start: 2060, end: 2120 },
        [Op.cure]: { start: 2120, end: 2210 },
        [Op.handover]: { start: 2210, end: 2240 },
        [Op.rinse]: { start: 2270, end: 2270 },
      },
      { 1: { to: 2240 } },
    );
    expect(brokenRules(twoCarDay, coatLater)).toEqual(['1 undemanded']);
  });

  test('of a wipe done before its coat, both being facts, is not demanded', () => {
    const problem = blankProblem({
      now: 300,
      jobs: [{ name: 'car', stays: [], release: 0 }],
      operations: [
        work('wipe', 0, 10, fact(100)),
        work('coat', 0, 5, fact(200)),
        work('wipe again', 0, 10, { presence: 'optional' }),
      ],
      lags: [{ ...endToStart(0, 1, 0, 30), remedy: [2] }],
    });
    const facts = [
      { start: 100, end: 110, mode: 0 },
      { start: 200, end: 205, mode: 0 },
    ];
    expect(brokenRules(problem, { operations: [...facts, null], stays: [] })).toEqual([]);
    const again = { start: 300, end: 310, mode: 0 };
    expect(brokenRules(problem, { operations: [...facts, again], stays: [] })).toEqual(['1 undemanded']);
  });
});

describe('dates', () => {
  test.each([
    [{ release: 113 }, {}, ['1 release']],
    [{ release: 112, deadline: 117 }, {}, []],
    [{ deadline: 116 }, {}, ['1 deadline']],
    [{}, { horizon: 116 }, ['1 horizon']],
    [{}, { jobs: [{ name: 'car', stays: [], release: 101 }] }, ['1 release']],
  ])('%j and %j break %j for a rinse from 112 to 117', (dates, given, rules) => {
    expect(brokenRules(pair({}, dates, given), rinseAt(112))).toEqual(rules);
  });

  test('do not judge facts', () => {
    expect(brokenRules(pair(fact(100), { ...fact(112), deadline: 50 }, { now: 200 }), rinseAt(112))).toEqual([]);
  });
});
