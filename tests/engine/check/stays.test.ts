import { describe, expect, test } from 'vitest';
import { brokenRules, changed } from './changed.ts';
import { CLEAN_BAY, Op, twoCarDay, twoCarPlan, WET_BAY, YARD_BACK, YARD_FRONT } from './two-car-day.ts';

describe('a car', () => {
  test.each([
    ['leaves before it arrives elsewhere', {}, { 0: { to: 569 } }, ['2 stay-gap']],
    [
      'is moved though it stays where it is',
      {},
      { 1: { place: WET_BAY } },
      ['2 mode-place', '2 move-undemanded', '2 place-shared'],
    ],
    ['changes its place without a move', { [Op.move]: null }, {}, ['2 move-missing']],
    ['arrives before its move ends', {}, { 0: { to: 565 }, 1: { from: 565 } }, ['2 move-end']],
    [
      'is worked on before it is there',
      {},
      { 0: { to: 575 }, 1: { from: 575 } },
      ['2 move-end', '2 turnaround', '2 work-before-stay'],
    ],
    [
      'is worked on while it is moved',
      { [Op.move]: { start: 559, end: 569 } },
      { 0: { to: 569 }, 1: { from: 569 } },
      ['2 work-after-stay', '3 capacity'],
    ],
    ['takes a place that is not meant for it', {}, { 3: { place: CLEAN_BAY } }, ['2 place', '2 place-shared']],
    [
      'has no stay for its work',
      {},
      { 1: null },
      ['2 move-undemanded', '2 stay-missing', '2 work-without-stay', '9 handover'],
    ],
    [
      'moves into an absent yard',
      { [Op.otherHandover]: { start: 675, end: 705 } },
      { 3: null },
      ['2 move-undemanded', '2 work-without-stay', '9 handover'],
    ],
    [
      'moves before it has come',
      { [Op.otherMove]: { start: 584, end: 594 } },
      { 2: { to: 594 }, 3: { from: 594 } },
      ['2 move-start', '2 work-after-stay', '3 capacity'],
    ],
  ])('that %s breaks a rule', (_, operations, stays, rules) => {
    expect(brokenRules(twoCarDay, changed(twoCarPlan, operations, stays))).toEqual(rules);
  });

  test('may take the front of the yard as well as the back', () => {
    expect(brokenRules(twoCarDay, changed(twoCarPlan, {}, { 3: { place: YARD_FRONT } }))).toEqual([]);
  });

  test('that arrived somewhere as a fact needs no move there', () => {
    const problem = {
      ...twoCarDay,
      stays: twoCarDay.stays.map((stay, s) => (s === 3 ? { ...stay, fixed: { place: YARD_BACK, from: 675 } } : stay)),
    };
    expect(brokenRules(problem, changed(twoCarPlan, { [Op.otherMove]: null }))).toEqual([]);
    expect(brokenRules(problem, twoCarPlan)).toEqual(['2 move-undemanded']);
  });

  test('that has left nothing in a stay may skip it when that is optional', () => {
    const problem = {
      ...twoCarDay,
      operations: twoCarDay.operations.map((operation, o) =>
        o === Op.otherHandover ? { ...operation, stay: 2 } : operation,
      ),
      takenPlaces: [],
    };
    const plan = changed(
      twoCarPlan,
      { [Op.otherMove]: null, [Op.otherHandover]: { start: 665, end: 695 } },
      { 2: { to: 695 }, 3: null },
    );
    expect(brokenRules(problem, plan)).toEqual([]);
  });
});
