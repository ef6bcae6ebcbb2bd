import { describe, expect, test } from 'vitest';
import { check } from '../../../src/engine/check/check.ts';
import type { Problem } from '../../../src/engine/problem/problem.ts';
import { at, blankProblem, endToStart, work } from '../random/blank-problem.ts';
import { planned } from './small-shop.ts';

const place = (name: string, blockedBy: number[] = [], zone?: number) => ({
  name,
  turnaround: 0,
  blockedBy,
  ...(zone === undefined ? {} : { zone }),
});

describe('cars in the shop', () => {
  test('that wait for one another both get a plan', () => {
    // The coated car in the back can leave only past the front bay; the car there cannot be washed until the coat is dust-safe.
    const problem = blankProblem({
      now: 100,
      places: [place('front', [], 0), place('back', [0], 0)],
      zones: ['hall'],
      airLabels: ['coating', 'mist'],
      airExclusions: [{ zone: 0, first: 0, second: 1, settleAfterFirst: 0, settleAfterSecond: 0 }],
      jobs: [
        { name: 'coated', stays: [0], release: 0, handover: 2, ready: 0 },
        { name: 'dirty', stays: [1], release: 0, handover: 4, ready: 3 },
      ],
      stays: [
        { job: 0, places: [1], optional: false, fixed: { place: 1, from: 0 } },
        { job: 1, places: [0], optional: false, fixed: { place: 0, from: 50 } },
      ],
      operations: [
        work('coat', 0, 60, { stay: 0, fixed: { start: 30, end: 90, mode: 0, by: 'fact' } }),
        work('dust-safe', 0, 0),
        work('handover', 0, 10, { stay: 0 }),
        work('wash', 1, 40, { stay: 1 }),
        work('handover', 1, 10, { stay: 1 }),
      ],
      lags: [endToStart(0, 1, 120, 120), endToStart(1, 2), endToStart(3, 4)],
      airSpans: [
        { label: 0, stay: 0, from: at(0, 'start'), to: at(1, 'start') },
        { label: 1, stay: 1, from: at(3, 'start'), to: at(3, 'end') },
      ],
    });
    const schedule = planned(problem);
    expect(schedule.operations[3]!.start).toBe(210);
    expect(schedule.stays[0]!.to).toBe(260);
    expect(check(problem, schedule)).toEqual([]);
  });

  test('swap their bays by way of the yard', () => {
    const driver = [{ work: 5, uses: [{ resource: 0, amount: 100 }] }];
    const move = { presence: 'optional' as const, modes: driver };
    const problem: Problem = blankProblem({
      now: 100,
      resources: [{ name: 'driver', capacity: 100, kind: 'person' }],
      places: [place('left'), place('right'), place('yard')],
      jobs: [
        { name: 'a', stays: [0, 1, 2], release: 0 },
        { name: 'b', stays: [3, 4, 5], release: 0 },
      ],
      stays: [
        { job: 0, places: [0], optional: false, fixed: { place: 0, from: 0 } },
        { job: 0, places: [2], optional: true, move: 0 },
        { job: 0, places: [1], optional: false, move: 1 },
        { job: 1, places: [1], optional: false, fixed: { place: 1, from: 0 } },
        { job: 1, places: [2], optional: true, move: 2 },
        { job: 1, places: [0], optional: false, move: 3 },
      ],
      operations: [
        work('move', 0, 5, move),
        work('move', 0, 5, move),
        work('move', 1, 5, move),
        work('move', 1, 5, move),
        work('polish', 0, 60, { stay: 0 }),
        work('coat', 0, 60, { stay: 2 }),
        work('polish', 1, 80, { stay: 3 }),
        work('coat', 1, 60, { stay: 5 }),
      ],
    });
    const schedule = planned(problem);
    expect(check(problem, schedule)).toEqual([]);
    expect([schedule.stays[1], schedule.stays[4]].filter((stay) => stay !== null)).toHaveLength(1);
  });

  test.each([0, 5, 20, 90])(
    'that only wait to swap their bays leave each bay its turnaround of 30 min, %i min later',
    (later) => {
      const driver = [{ work: 5, uses: [{ resource: 0, amount: 100 }] }];
      const move = { presence: 'optional' as const, modes: driver };
      const done = { by: 'fact' as const, mode: 0, start: 40, end: 90 };
      const problem: Problem = blankProblem({
        now: 90 + later,
        resources: [{ name: 'driver', capacity: 100, kind: 'person' }],
        places: [{ ...place('left'), turnaround: 30 }, { ...place('right'), turnaround: 30 }, place('yard')],
        jobs: [
          { name: 'a', stays: [0, 1, 2], release: 0 },
          { name: 'b', stays: [3, 4, 5], release: 0 },
        ],
        stays: [
          { job: 0, places: [0], optional: false, fixed: { place: 0, from: 0 } },
          { job: 0, places: [2], optional: true, move: 0 },
          { job: 0, places: [1], optional: false, move: 1 },
          { job: 1, places: [1], optional: false, fixed: { place: 1, from: 0 } },
          { job: 1, places: [2], optional: true, move: 2 },
          { job: 1, places: [0], optional: false, move: 3 },
        ],
        operations: [
          work('move', 0, 5, move),
          work('move', 0, 5, move),
          work('move', 1, 5, move),
          work('move', 1, 5, move),
          work('polish', 0, 50, { stay: 0, fixed: done }),
          work('coat', 0, 60, { stay: 2 }),
          work('polish', 1, 50, { stay: 3, fixed: done }),
          work('coat', 1, 60, { stay: 5 }),
        ],
      });
      expect(check(problem, planned(problem))).toEqual([]);
    },
  );

  test('are planned before anybody who is still to come', () => {
    const problem = blankProblem({
      now: 100,
      places: [place('bay')],
      jobs: [
        { name: 'new and urgent', stays: [0], release: 0, ready: 0, due: { at: 150, weight: 9 } },
        { name: 'here', stays: [1], release: 0, ready: 1 },
      ],
      stays: [
        { job: 0, places: [0], optional: false },
        { job: 1, places: [0], optional: false, fixed: { place: 0, from: 20 } },
      ],
      operations: [work('wash', 0, 30, { stay: 0 }), work('polish', 1, 200, { stay: 1 })],
    });
    const schedule = planned(problem);
    expect(schedule.operations[1]!.start).toBe(100);
    expect(schedule.operations[0]!.start).toBe(300);
    expect(check(problem, schedule)).toEqual([]);
  });
});
