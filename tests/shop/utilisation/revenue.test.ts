import { expect, test } from 'vitest';
import type { CarOnFloor } from '../../../src/shop/floor/gates/situation.ts';
import { revenueOf } from '../../../src/shop/utilisation/revenue.ts';
import { PlaceId } from '../../../src/trade/model/ids.ts';
import { demo, demoRecipe } from '../../seed/demo-shop.ts';
import { at } from '../a-shop.ts';

const bays = new Set([PlaceId.parse('bay1'), PlaceId.parse('bay2')]);
const week = { from: at('2026-03-02T00:00+01:00'), to: at('2026-03-09T00:00+01:00') };
const of = (...cars: CarOnFloor[]) => revenueOf(cars, week, bays, demo.shop);

/** A car that stood in places from one hour to the next, and was picked up when it left the last. */
function gone(
  recipe: Parameters<typeof demoRecipe>[0],
  priceMinor: number,
  stays: [string, string, string][],
  scope?: number,
) {
  const happened = {
    work: new Map(),
    arrivedAt: at(stays[0]![1]),
    pickedUpAt: at(stays.at(-1)![2]),
    stays: stays.map(([placeId, from, to]) => ({ placeId, from: at(from), to: at(to) })),
  };
  const job = { priceMinor, scope: scope === undefined ? null : { priceMinor: scope } };
  return { job, recipe: demoRecipe(recipe), happened } as unknown as CarOnFloor;
}

test('a wash for 60.00 that held a bay for an hour and a half brought 40.00 an hour', () => {
  const { all } = of(gone('walkInWash', 6_000, [['bay1', '2026-03-03T09:00+01:00', '2026-03-03T10:30+01:00']]));
  expect(all).toEqual({ cars: 1, revenueMinor: 6_000, bayMinutes: 90, perBayHourMinor: 4_000 });
});

test('a night in a bay costs the hours that were open, and the yard costs none', () => {
  // The demo opens 08:00 to 18:30: half an hour on Tuesday evening, two on Wednesday morning.
  const { all } = of(
    gone('maintenance', 15_000, [
      ['yard1', '2026-03-03T08:00+01:00', '2026-03-03T18:00+01:00'],
      ['bay2', '2026-03-03T18:00+01:00', '2026-03-04T10:00+01:00'],
    ]),
  );
  expect(all).toMatchObject({ bayMinutes: 150, perBayHourMinor: 6_000 });
});

test('what counts is the price after the inspection, where there was one', () => {
  const stay: [string, string, string] = ['bay1', '2026-03-03T09:00+01:00', '2026-03-03T10:00+01:00'];
  expect(of(gone('correction', 50_000, [stay], 80_000)).all.revenueMinor).toBe(80_000);
});

test('a car picked up in another week, and one still here, bring nothing to this one', () => {
  const later = gone('maintenance', 9_000, [['bay1', '2026-03-09T09:00+01:00', '2026-03-09T10:00+01:00']]);
  const here = gone('maintenance', 9_000, [['bay1', '2026-03-03T09:00+01:00', '2026-03-03T10:00+01:00']]);
  const standing = { ...here, happened: { ...here.happened, pickedUpAt: null } };
  expect(of(later, standing).all).toEqual({ cars: 0, revenueMinor: 0, bayMinutes: 0, perBayHourMinor: null });
});

test('recipes add up to all, the dearest bay hour first', () => {
  const { recipes, all } = of(
    gone('walkInWash', 6_000, [['bay1', '2026-03-03T09:00+01:00', '2026-03-03T10:00+01:00']]),
    gone('walkInWash', 7_000, [['bay1', '2026-03-03T11:00+01:00', '2026-03-03T12:10+01:00']]),
    gone('correction', 90_000, [['bay2', '2026-03-03T09:00+01:00', '2026-03-03T17:00+01:00']]),
  );
  expect(recipes.map(({ recipeId }) => recipeId)).toEqual(['correction', 'walkInWash']);
  for (const part of ['cars', 'revenueMinor', 'bayMinutes'] as const) {
    expect(recipes.reduce((sum, line) => sum + line[part], 0)).toBe(all[part]);
  }
});
