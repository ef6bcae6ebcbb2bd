import { describe, expect, test } from 'vitest';
import { at } from '../random/blank-problem.ts';
import { brokenRules } from './changed.ts';
import { Op, twoCarDay, twoCarPlan } from './two-car-day.ts';

const still = (from: ReturnType<typeof at>, to: ReturnType<typeof at>) => ({
  ...twoCarDay,
  stills: [{ job: 0, from, to }],
});

describe('a car that must stand still', () => {
  test.each([
    ['from drop-off to the end of the wash', at(Op.intake, 'end'), at(Op.wash, 'end'), []],
    ['until its move has started', at(Op.wash, 'start'), at(Op.compound, 'start'), ['2 move-unsafe']],
    ['from the end of its move', at(Op.compound, 'start'), at(Op.coat, 'end'), []],
    ['until its own pickup', at(Op.wipe, 'start'), at(Op.handover, 'end'), []],
    ['beyond its pickup', at(Op.wipe, 'start'), at(Op.rinse, 'end'), ['2 move-unsafe']],
    ['from after to before', at(Op.coat, 'end'), at(Op.wash, 'end'), []],
  ])('%s', (_, from, to, rules) => {
    expect(brokenRules(still(from, to), twoCarPlan)).toEqual(rules);
  });

  test('is not judged for a move that happened within a stillness that had begun', () => {
    const moved = (fixedWash: boolean) => ({
      ...still(at(Op.wash, 'start'), at(Op.compound, 'start')),
      now: 575,
      operations: twoCarDay.operations.map((operation, o) => {
        const planned = twoCarPlan.operations[o];
        const fixed = o === Op.move || o === Op.intake || (o === Op.wash && fixedWash) || o === Op.compound;
        return fixed
          ? { ...operation, fixed: { start: planned!.start, mode: planned!.mode, by: 'fact' as const } }
          : operation;
      }),
    });
    expect(brokenRules(moved(true), twoCarPlan)).toEqual([]);
    expect(brokenRules(moved(false), twoCarPlan)).toContain('2 move-unsafe');
  });
});
