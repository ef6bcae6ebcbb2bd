import { describe, expect, test } from 'vitest';
import { brokenRules, changed } from './changed.ts';
import { Op, twoCarDay, twoCarPlan, YARD_BACK, YARD_FRONT } from './two-car-day.ts';

/** The front of the yard is taken by a car outside the plan. */
const frontTaken = (from: number, to: number) => ({
  ...twoCarDay,
  takenPlaces: [{ place: YARD_FRONT, from, to }],
});

describe('tandem parking', () => {
  test.each([
    ['comes as the move in ends', 675, 700, []],
    ['leaves as the move in starts', 600, 665, []],
    ['comes one minute before the move in ends', 674, 700, ['2 blocked']],
    ['leaves one minute after the move in starts', 600, 666, ['2 blocked']],
    ['leaves as the car behind is picked up', 700, 795, []],
    ['stands there at the minute of pickup', 700, 796, ['2 blocked']],
    ['comes after the pickup', 796, 800, []],
  ])('with a car in front that %s', (_, from, to, rules) => {
    expect(brokenRules(frontTaken(from, to), twoCarPlan)).toEqual(rules);
  });

  test('does not block the car in front', () => {
    const problem = { ...twoCarDay, takenPlaces: [{ place: YARD_BACK, from: 600, to: 900 }] };
    expect(brokenRules(problem, changed(twoCarPlan, {}, { 3: { place: YARD_FRONT } }))).toEqual([]);
  });

  test('holds for the drop-off, too', () => {
    const problem = {
      ...frontTaken(580, 590),
      stays: twoCarDay.stays.map((stay, s) => (s === 2 ? { ...stay, places: [YARD_BACK] } : stay)),
      operations: twoCarDay.operations.map((operation, o) =>
        o === Op.otherWash
          ? { ...operation, modes: operation.modes.map((mode) => ({ ...mode, places: [YARD_BACK] })) }
          : operation,
      ),
    };
    const plan = changed(twoCarPlan, { [Op.otherMove]: null }, { 2: { place: YARD_BACK } });
    expect(brokenRules(problem, plan)).toEqual(['2 blocked']);
  });
});

describe('a swap of two cars', () => {
  test('at one stroke needs a free third place even when nothing is turned round', () => {
    const places = twoCarDay.places.map((place) => ({ ...place, turnaround: 0 }));
    const problem = {
      ...twoCarDay,
      places,
      takenPlaces: [],
      stays: twoCarDay.stays.map((stay, s) => (s === 0 ? stay : { ...stay, places: [0, 1, 2, 3] })),
      operations: twoCarDay.operations.map((operation, o) =>
        o === Op.otherWash || o === Op.compound || o === Op.wash
          ? { ...operation, modes: operation.modes.map(({ places: _, ...mode }) => mode) }
          : operation,
      ),
    };
    // The red coupe stands in the clean bay until it changes places with the grey estate, both cars moving at once.
    const plan = changed(
      twoCarPlan,
      {
        [Op.otherIntake]: { start: 480, end: 500 },
        [Op.otherWash]: { start: 500, end: 560 },
        [Op.otherMove]: { start: 560, end: 570 },
      },
      { 2: { place: 1, from: 480, to: 570 }, 3: { place: 0, from: 570, to: 795 } },
    );
    expect(brokenRules(problem, plan)).toEqual(['2 place-shared']);
  });
});
