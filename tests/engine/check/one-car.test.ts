import { describe, expect, test } from 'vitest';
import type { Place, Problem, Stay } from '../../../src/engine/problem/problem.ts';
import type { PlannedStay } from '../../../src/engine/problem/solution.ts';
import { blankProblem } from '../random/blank-problem.ts';
import { seededRandom } from '../random/seeded-random.ts';
import { brokenRules } from './changed.ts';

/** One job a stay, all of which may take places 0 and 1. */
function bay(stays: readonly Partial<Stay>[], place: Partial<Place> = {}, given: Partial<Problem> = {}): Problem {
  return blankProblem({
    places: [0, 1].map((p) => ({ name: `bay ${p}`, turnaround: 15, blockedBy: [], ...place })),
    jobs: stays.map((_, s) => ({ name: `car ${s}`, stays: [s], release: 0 })),
    stays: stays.map((stay, s) => ({ job: s, places: [0, 1], optional: false, ...stay })),
    ...given,
  });
}

const standing = (...stays: [number, number, number?][]): { operations: []; stays: PlannedStay[] } => ({
  operations: [],
  stays: stays.map(([from, to, place]) => ({ place: place ?? 0, from, to })),
});

describe('a bay', () => {
  test.each([
    [[100, 200], [215, 300], []],
    [[100, 200], [214, 300], ['2 turnaround']],
    [[100, 200], [199, 300], ['2 place-shared']],
    [[100, 200], [120, 130], ['2 place-shared']],
  ] as [[number, number], [number, number], string[]][])('with cars from %j and %j breaks %j', (one, other, rules) => {
    expect(brokenRules(bay([{}, {}]), standing(one, other))).toEqual(rules);
  });

  test('holds one car however the third of them lies', () => {
    expect(brokenRules(bay([{}, {}, {}]), standing([100, 900], [200, 300, 1], [400, 500]))).toEqual(['2 place-shared']);
  });

  test('that was given to two cars at once as a fact is not judged until something is decided', () => {
    const settled = [{ fixed: { place: 0, from: 100 } }, { fixed: { place: 0, from: 120 } }, {}];
    expect(brokenRules(bay(settled, {}, { now: 130 }), standing([100, 200], [120, 180], [215, 300]))).toEqual([]);
    expect(brokenRules(bay(settled, {}, { now: 130 }), standing([100, 200], [120, 180], [190, 300]))).toEqual([
      '2 place-shared',
    ]);
  });

  test('keeps its turnaround towards what is outside the plan', () => {
    const problem = bay([{}], {}, { takenPlaces: [{ place: 0, from: 50, to: 90 }] });
    expect(brokenRules(problem, standing([104, 200]))).toEqual(['2 turnaround']);
    expect(brokenRules(problem, standing([105, 200]))).toEqual([]);
  });

  test('that is taken from later on must be left by a car that stands there now', () => {
    const problem = bay(
      [{ fixed: { place: 0, from: 50 } }],
      {},
      { now: 100, takenPlaces: [{ place: 0, from: 150, to: 200 }] },
    );
    expect(brokenRules(problem, standing([50, 160]))).toEqual(['2 place-shared']);
    expect(brokenRules(problem, standing([50, 135]))).toEqual([]);
  });

  test('that closes lets no car stand on', () => {
    const open = [{ from: 50, to: 150 }];
    expect(brokenRules(bay([{}], { open }), standing([50, 150]))).toEqual([]);
    expect(brokenRules(bay([{}], { open }), standing([50, 151]))).toEqual(['2 place-closed']);
  });

  test('that closes lets a car stand on only where that is allowed', () => {
    const open = [{ from: 0, to: 150 }];
    const there = { place: 0, from: 50 };
    expect(brokenRules(bay([{ fixed: there }], { open }, { now: 100 }), standing([50, 200]))).toEqual([
      '2 place-closed',
    ]);
    const allowed = bay([{ fixed: { ...there, standsOn: true } }], { open }, { now: 100 });
    expect(brokenRules(allowed, standing([50, 200]))).toEqual([]);
  });

  test('that is already closed around a car is a fact', () => {
    const problem = bay([{ fixed: { place: 0, from: 50 } }], { open: [{ from: 0, to: 90 }] }, { now: 100 });
    expect(brokenRules(problem, standing([50, 120]))).toEqual([]);
  });
});

describe('the sweep over a bay', () => {
  test('finds a clash exactly when comparing every two cars finds one', () => {
    const random = seededRandom(11);
    let clashes = 0;
    for (let round = 0; round < 400; round++) {
      const stays = Array.from({ length: random.whole(2, 5) }, (): [number, number, number] => {
        const from = random.whole(0, 400);
        return [from, from + random.whole(1, 60), random.whole(0, 1)];
      });
      const clash = stays.some(([from, to, place], i) =>
        stays.some(([from2, to2, place2], j) => i < j && place === place2 && from2 < to + 15 && from < to2 + 15),
      );
      if (clash) clashes++;
      expect(brokenRules(bay(stays.map(() => ({}))), standing(...stays)).length > 0).toBe(clash);
    }
    expect(clashes).toBeGreaterThan(40);
    expect(clashes).toBeLessThan(360);
  });
});
