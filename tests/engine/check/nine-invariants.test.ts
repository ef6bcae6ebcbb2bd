import { describe, expect, test } from 'vitest';
import { check } from '../../../src/engine/check/check.ts';
import type { Problem } from '../../../src/engine/problem/problem.ts';
import type { Schedule } from '../../../src/engine/problem/solution.ts';
import { changed, withOperation } from './changed.ts';
import { ADA, CLEAN_BAY, Op, twoCarDay, twoCarPlan, WET_BAY } from './two-car-day.ts';

/** One violation of each invariant, seeded by hand into the plan that obeys all nine. */
const seeded: { invariant: number; title: string; problem?: Problem; plan: Schedule }[] = [
  {
    invariant: 1,
    title: 'the coat waits longer than the wipe keeps, and no second wipe is planned',
    plan: changed(
      twoCarPlan,
      {
        [Op.coat]: { start: 2090, end: 2150 },
        [Op.cure]: { start: 2150, end: 2240 },
        [Op.handover]: { start: 2240, end: 2270 },
        [Op.rinse]: { start: 2300, end: 2300 },
      },
      { 1: { to: 2270 } },
    ),
  },
  {
    invariant: 2,
    title: 'the second car comes while the bay is still being turned round',
    plan: changed(
      twoCarPlan,
      {
        [Op.otherIntake]: { start: 580, end: 600 },
        [Op.otherWash]: { start: 600, end: 660 },
      },
      { 2: { from: 580 } },
    ),
  },
  {
    invariant: 3,
    title: 'Ada washes one car and compounds the other at once',
    plan: changed(twoCarPlan, { [Op.otherWash]: { mode: ADA } }),
  },
  {
    invariant: 4,
    title: 'the handover is planned across lunch',
    plan: changed(twoCarPlan, { [Op.handover]: { start: 2150, end: 2225 } }, { 1: { to: 2225 } }),
    problem: { ...twoCarDay, lags: twoCarDay.lags.filter(({ guards }) => guards !== 'release-safe') },
  },
  {
    invariant: 5,
    title: 'the coating is opened before the dust has settled',
    problem: {
      ...twoCarDay,
      airExclusions: twoCarDay.airExclusions.map((exclusion) => ({ ...exclusion, settleAfterFirst: 31 })),
    },
    plan: twoCarPlan,
  },
  {
    invariant: 6,
    title: 'water reaches the coating a minute too early',
    plan: changed(twoCarPlan, { [Op.rinse]: { start: 2244, end: 2244 } }),
  },
  {
    invariant: 7,
    title: 'the coat lies where the bay is too cold',
    problem: withOperation(twoCarDay, Op.coat, {
      modes: twoCarDay.operations[Op.coat]!.modes.map((mode) => ({ ...mode, allowed: [{ from: 1980, to: 2094 }] })),
    }),
    plan: twoCarPlan,
  },
  {
    invariant: 8,
    title: 'a drop-off frozen by the desk is planned a minute later',
    problem: withOperation(twoCarDay, Op.intake, { fixed: { start: 479, by: 'frozen' } }),
    plan: twoCarPlan,
  },
  {
    invariant: 9,
    title: 'the owner comes after closing',
    plan: twoCarPlan,
    problem: {
      ...twoCarDay,
      jobs: twoCarDay.jobs.map((job, j) => (j === 0 ? { ...job, pickupOpen: [{ from: 1920, to: 2205 }] } : job)),
    },
  },
];

describe('each invariant', () => {
  test.each(seeded)('$invariant is told when $title', ({ invariant, problem, plan }) => {
    const numbers = new Set(check(problem ?? twoCarDay, plan).map((violation) => violation.invariant));
    expect([...numbers]).toEqual([invariant]);
  });

  test('is told in a sentence that names operations and minutes', () => {
    const [violation] = check(twoCarDay, changed(twoCarPlan, { [Op.rinse]: { start: 2244, end: 2244 } }));
    expect(violation).toEqual({
      invariant: 6,
      rule: 'water-safe',
      text: 'Between the end of "cure" of "grey estate" and the start of "rinse at home" of "grey estate" lie 59 minutes; at least 60 are needed.',
      operations: [Op.cure, Op.rinse],
      stays: [],
    });
  });

  test('names the places of a clash', () => {
    const plan = changed(twoCarPlan, { [Op.move]: null }, { 1: { place: CLEAN_BAY }, 0: { place: WET_BAY } });
    expect(check(twoCarDay, plan).map(({ text }) => text)).toContain(
      'the car of "grey estate" goes from "wet bay" to "clean bay" at minute 570 and no move is planned.',
    );
  });
});
