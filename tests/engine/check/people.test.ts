import { describe, expect, test } from 'vitest';
import { check } from '../../../src/engine/check/check.ts';
import type { Problem, Resource } from '../../../src/engine/problem/problem.ts';
import { blankProblem, work } from '../random/blank-problem.ts';
import { seededRandom } from '../random/seeded-random.ts';
import { brokenRules, changed } from './changed.ts';
import { ADA, Op, twoCarDay, twoCarPlan } from './two-car-day.ts';

/** Operations of one person, each with its amount, from `from` to `to`. */
function alone(
  tasks: readonly [from: number, to: number, amount: number][],
  given: Partial<Resource> = {},
  more: Partial<Problem> = {},
) {
  const problem = blankProblem({
    resources: [{ name: 'Ada', capacity: 100, kind: 'person', ...given }],
    jobs: [{ name: 'car', stays: [], release: 0 }],
    operations: tasks.map(([from, to, amount], o) =>
      work(`task ${o}`, 0, to - from, { modes: [{ work: to - from, uses: [{ resource: 0, amount }] }] }),
    ),
    ...more,
  });
  return { problem, plan: { operations: tasks.map(([start, end]) => ({ start, end, mode: 0 })), stays: [] } };
}

describe('a person', () => {
  test('does hands-on work one thing at a time, and watches two lamps at a share of each', () => {
    const twoHands = alone([
      [0, 60, 100],
      [59, 90, 100],
    ]);
    expect(brokenRules(twoHands.problem, twoHands.plan)).toEqual(['3 capacity']);
    const lamps = alone([
      [0, 60, 50],
      [10, 90, 50],
      [60, 80, 50],
    ]);
    expect(brokenRules(lamps.problem, lamps.plan)).toEqual([]);
    const threeLamps = alone([
      [0, 60, 50],
      [10, 90, 50],
      [59, 80, 50],
    ]);
    expect(brokenRules(threeLamps.problem, threeLamps.plan)).toEqual(['3 capacity']);
  });

  test('works in their hours', () => {
    const open = [
      { from: 10, to: 60 },
      { from: 60, to: 80 },
    ];
    const inside = alone([[10, 80, 100]], { open });
    expect(brokenRules(inside.problem, inside.plan)).toEqual([]);
    const late = alone([[20, 81, 100]], { open });
    expect(brokenRules(late.problem, late.plan)).toEqual(['3 hours']);
  });

  test('is not needed in the pauses of pausable work', () => {
    // Ada compounds over the night; at 1500 the shop is dark.
    const problem = { ...twoCarDay, takenResources: [{ resource: ADA, amount: 100, from: 915, to: 1920 }] };
    expect(brokenRules(problem, twoCarPlan)).toEqual([]);
  });

  test('taken elsewhere is not asked for more', () => {
    const problem = { ...twoCarDay, takenResources: [{ resource: ADA, amount: 1, from: 1979, to: 1980 }] };
    expect(brokenRules(problem, twoCarPlan)).toEqual(['3 capacity']);
  });

  test('who is in two places as a fact is not judged, but gets no third task', () => {
    const two = alone(
      [
        [0, 60, 100],
        [30, 90, 100],
        [90, 95, 100],
      ],
      {},
      { now: 45 },
    );
    const fact = (o: number) => ({ start: o * 30, mode: 0, by: 'fact' as const });
    const problem = {
      ...two.problem,
      operations: two.problem.operations.map((operation, o) => (o < 2 ? { ...operation, fixed: fact(o) } : operation)),
    };
    expect(brokenRules(problem, two.plan)).toEqual([]);
    expect(brokenRules(problem, changed(two.plan, { 2: { start: 80, end: 85 } }))).toEqual(['3 capacity']);
  });
});

describe('a crew', () => {
  test('that must be the same is the same', () => {
    expect(brokenRules(twoCarDay, changed(twoCarPlan, { [Op.coat]: { mode: 1 } }))).toEqual(['3 same-crew']);
  });

  test('that is held does nothing in between, not even when the gap is a lunch', () => {
    const problem = { ...twoCarDay, takenResources: [{ resource: ADA, amount: 1, from: 2030, to: 2035 }] };
    expect(brokenRules(problem, twoCarPlan)).toEqual(['3 capacity']);
    const notHeld = { ...problem, sameCrew: problem.sameCrew.map((pair) => ({ ...pair, held: false })) };
    expect(brokenRules(notHeld, twoCarPlan)).toEqual([]);
    const resources = twoCarDay.resources.map((resource, r) =>
      r === ADA
        ? { ...resource, open: [...resource.open!.slice(0, 2), { from: 1920, to: 2030 }, { from: 2035, to: 2160 }] }
        : resource,
    );
    expect(brokenRules({ ...twoCarDay, resources }, twoCarPlan)).toEqual(['3 hours']);
  });
});

describe('the sweep over a person', () => {
  test('finds too much work exactly when counting every minute does', () => {
    const random = seededRandom(3);
    let overloads = 0;
    for (let round = 0; round < 400; round++) {
      const tasks = Array.from({ length: random.whole(1, 6) }, (): [number, number, number] => {
        const from = random.whole(0, 80);
        return [from, from + random.whole(1, 20), random.pick([20, 50, 60, 100])];
      });
      const overload = Array.from({ length: 110 }, (_, minute) => minute).some(
        (minute) =>
          tasks.reduce((sum, [from, to, amount]) => (from <= minute && minute < to ? sum + amount : sum), 0) > 100,
      );
      if (overload) overloads++;
      const { problem, plan } = alone(tasks);
      expect(check(problem, plan).length > 0).toBe(overload);
    }
    expect(overloads).toBeGreaterThan(40);
    expect(overloads).toBeLessThan(360);
  });
});
