import { describe, expect, test } from 'vitest';
import { measure } from '../../../src/engine/check/objective.ts';
import type { Tier } from '../../../src/engine/problem/problem.ts';
import { changed } from './changed.ts';
import { Op, twoCarDay, twoCarPlan } from './two-car-day.ts';

function one(tier: Tier, given: Partial<typeof twoCarDay> = {}, plan = twoCarPlan): number {
  return measure({ ...twoCarDay, ...given, tiers: [tier] }, plan)[0]!;
}

describe('the tiers', () => {
  test('count a promise as broken from the first minute on, by its weight', () => {
    const late = changed(twoCarPlan, { [Op.handover]: { start: 2401, end: 2431 } });
    expect(one('broken', {}, changed(twoCarPlan, { [Op.handover]: { start: 2400, end: 2430 } }))).toBe(0);
    expect(one('broken', {}, late)).toBe(5);
    expect(one('tardiness', {}, late)).toBe(5 * 1 + 2 * 65);
  });

  test('count overtime by worked minutes of the person who has it', () => {
    const late = (start: number, mode: number) =>
      changed(twoCarPlan, { [Op.handover]: { start, end: start + 30, mode } });
    expect(one('overtime', {}, late(2380, 0))).toBe(10);
    expect(one('overtime', {}, late(2400, 0))).toBe(30);
    expect(one('overtime', {}, late(2400, 1))).toBe(0);
  });

  test('count lead time from drop-off to ready', () => {
    expect(one('lead')).toBe(2185 - 480 + 665 - 585);
  });

  test('count minutes of stays by what a minute in their places costs', () => {
    const costs = [3, 0, 1, 0];
    const places = twoCarDay.places.map((place, p) => ({ ...place, standingCost: costs[p]! }));
    const minutesIn = (at: number) =>
      twoCarPlan.stays.reduce((sum, stay) => sum + (stay?.place === at ? stay.to - stay.from : 0), 0);
    expect(minutesIn(0)).toBeGreaterThan(0);
    expect(one('standing', { places })).toBe(3 * minutesIn(0) + minutesIn(2));
    expect(one('standing')).toBe(0);
  });

  test('count change in minutes moved and 60 for another crew, facts excepted', () => {
    const operations = twoCarPlan.operations.map((planned) => planned && { start: planned.start, mode: planned.mode });
    expect(one('change', { previous: { operations } })).toBe(0);
    const moved = changed(twoCarPlan, {
      [Op.rinse]: { start: 2250, end: 2250 },
      [Op.handover]: { start: 2200, end: 2230, mode: 0 },
    });
    expect(one('change', { previous: { operations } }, moved)).toBe(5 + 5 + 60);
    const facts = twoCarDay.operations.map((operation, o) =>
      o === Op.rinse ? { ...operation, fixed: { start: 2250, mode: 0, by: 'fact' as const } } : operation,
    );
    expect(one('change', { previous: { operations }, operations: facts }, moved)).toBe(65);
  });
});
