import { describe, expect, test } from 'vitest';
import { check } from '../../../src/engine/check/check.ts';
import type { Mode, Problem } from '../../../src/engine/problem/problem.ts';
import { at, blankProblem, endToStart, work } from '../random/blank-problem.ts';
import { DAY, dayWorker, planned } from './small-shop.ts';

const bay = { name: 'bay', turnaround: 0, blockedBy: [], zone: 0 };
const by = (person: number, minutes: number): Mode[] => [{ work: minutes, uses: [{ resource: person, amount: 100 }] }];

function oneCar(given: Partial<Problem>): Problem {
  return blankProblem({
    resources: [dayWorker('coater', 5), dayWorker('polisher', 5)],
    places: [bay],
    zones: ['hall'],
    jobs: [{ name: 'car', stays: [0], release: 480 }],
    stays: [{ job: 0, places: [0], optional: false }],
    ...given,
  });
}

describe('work tied by a maximum lag', () => {
  test('moves as one block when its second part has no time left today', () => {
    const problem = oneCar({
      operations: [
        work('inspection', 0, 400, { stay: 0, modes: by(0, 400) }),
        work('wipe', 0, 40, { stay: 0, modes: by(0, 40) }),
        work('coat', 0, 120, { stay: 0, modes: by(0, 120) }),
      ],
      lags: [endToStart(0, 1), endToStart(1, 2, 0, 30)],
    });
    const schedule = planned(problem);
    // The inspection ends at 14:40; wipe and coat need 160 minutes and the coater leaves at 17:00.
    expect(schedule.operations[2]!.start).toBe(DAY + 520);
    expect(schedule.operations[1]!.start).toBe(DAY + 480);
    expect(check(problem, schedule)).toEqual([]);
  });

  test('takes its remedy when the first part is a fact that cannot be moved', () => {
    const problem = oneCar({
      now: 1000,
      stays: [{ job: 0, places: [0], optional: false, fixed: { place: 0, from: 480 } }],
      operations: [
        work('wipe', 0, 40, { stay: 0, modes: by(0, 40), fixed: { start: 940, end: 980, mode: 0, by: 'fact' } }),
        work('wipe again', 0, 25, { stay: 0, modes: by(0, 25), presence: 'optional' }),
        work('coat', 0, 120, { stay: 0, modes: by(0, 120) }),
      ],
      lags: [{ ...endToStart(0, 2, 0, 30), remedy: [1] }, endToStart(0, 1), endToStart(1, 2, 0, 30)],
    });
    const schedule = planned(problem);
    expect(schedule.operations[1]).toEqual({ start: DAY + 480, end: DAY + 505, mode: 0 });
    expect(schedule.operations[2]!.start).toBe(DAY + 505);
    expect(check(problem, schedule)).toEqual([]);
  });
});

test('a kept crew is not lent out between the two operations it is kept for', () => {
  const problem = oneCar({
    operations: [
      work('acid', 0, 10, { stay: 0, modes: by(0, 10) }),
      work('rinse', 0, 10, { stay: 0, modes: by(0, 10) }),
    ],
    lags: [endToStart(0, 1, 5, 8)],
    sameCrew: [{ first: 0, second: 1, held: true }],
    // Somebody else needs the person for two minutes in the middle of the dwell.
    takenResources: [{ resource: 0, amount: 100, from: 492, to: 494 }],
  });
  const schedule = planned(problem);
  expect(schedule.operations[0]!.start).toBe(494);
  expect(check(problem, schedule)).toEqual([]);
});

test('of two crews the one is taken that can do the tied operation too', () => {
  const problem = oneCar({
    resources: [{ ...dayWorker('early', 1), open: [{ from: 480, to: 560 }] }, dayWorker('late', 5)],
    operations: [
      work('coat', 0, 60, { stay: 0, modes: [...by(0, 60), ...by(1, 60)] }),
      work('second layer', 0, 60, { stay: 0, modes: [...by(0, 60), ...by(1, 60)] }),
    ],
    lags: [endToStart(0, 1, 60, 240)],
    sameCrew: [{ first: 0, second: 1, held: false }],
  });
  const schedule = planned(problem);
  expect(schedule.operations.map((operation) => operation!.mode)).toEqual([1, 1]);
  expect(check(problem, schedule)).toEqual([]);
});

test('coating begins only when the dust of another car in the same air has settled', () => {
  const problem = oneCar({
    places: [bay, bay],
    airLabels: ['dust', 'coating'],
    airExclusions: [{ zone: 0, first: 0, second: 1, settleAfterFirst: 30, settleAfterSecond: 0 }],
    jobs: [
      { name: 'correction', stays: [0], release: 480 },
      { name: 'coating', stays: [1], release: 500 },
    ],
    stays: [
      { job: 0, places: [0], optional: false },
      { job: 1, places: [1], optional: false },
    ],
    operations: [
      work('compound', 0, 100, { stay: 0, modes: by(1, 100) }),
      work('coat', 1, 60, { stay: 1, modes: by(0, 60) }),
    ],
    airSpans: [
      { label: 0, stay: 0, from: at(0, 'start'), to: at(0, 'end') },
      { label: 1, stay: 1, from: at(1, 'start'), to: at(1, 'end') },
    ],
  });
  const schedule = planned(problem);
  expect(schedule.operations[0]!.end).toBe(580);
  expect(schedule.operations[1]!.start).toBe(610);
  expect(check(problem, schedule)).toEqual([]);
});

test('an unattended cure runs through the night, unpausable work does not', () => {
  const problem = oneCar({
    operations: [
      work('coat', 0, 60, { stay: 0, modes: by(0, 60), release: 960 }),
      work('cure', 0, 720, { stay: 0 }),
      work('inspection', 0, 30, { stay: 0, modes: by(0, 30) }),
    ],
    lags: [endToStart(0, 1, 0, 0), endToStart(1, 2)],
  });
  const schedule = planned(problem);
  expect(schedule.operations[1]).toMatchObject({ start: 1020, end: 1740 });
  expect(schedule.operations[2]!.start).toBe(DAY + 480);
});

test('a second wipe is done by the people of the first one, since both are tied to the coat', () => {
  const either = (minutes: number): Mode[] => [...by(0, minutes), ...by(1, minutes)];
  const problem = oneCar({
    // The coater wipes first and is then away for most of the day; only the polisher has time for a second wipe before.
    takenResources: [{ resource: 0, amount: 100, from: 520, to: 800 }],
    operations: [
      work('wipe', 0, 40, { stay: 0, modes: by(0, 40), fixed: { start: 480, mode: 0, by: 'frozen' } }),
      work('wipe again', 0, 25, { stay: 0, modes: either(25), presence: 'optional' }),
      work('coat', 0, 120, { stay: 0, modes: either(120) }),
    ],
    lags: [{ ...endToStart(0, 2, 0, 30), remedy: [1] }, endToStart(0, 1), endToStart(1, 2, 0, 60)],
    sameCrew: [
      { first: 0, second: 2, held: false },
      { first: 1, second: 2, held: false },
    ],
  });
  const schedule = planned(problem);
  expect(schedule.operations[1]).toEqual({ start: 800, end: 825, mode: 0 });
  expect(schedule.operations[2]).toEqual({ start: 825, end: 945, mode: 0 });
  expect(check(problem, schedule)).toEqual([]);
});
