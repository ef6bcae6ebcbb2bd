import { describe, expect, test } from 'vitest';
import { check } from '../../../src/engine/check/check.ts';
import { JobInserter } from '../../../src/engine/construct/insert-job.ts';
import { BRIEF, QUICK, SNUG, THOROUGH } from '../../../src/engine/construct/insert-options.ts';
import { dropOff, pickup } from '../../../src/engine/construct/job-cost.ts';
import type { Mode, Place, Problem } from '../../../src/engine/problem/problem.ts';
import { makeBook } from '../../bench/books/book.ts';
import { blankProblem, endToStart, work } from '../random/blank-problem.ts';
import { bookOf, DAY, planned } from './small-shop.ts';

const place = (name: string, given: Partial<Place> = {}): Place => ({ name, turnaround: 0, blockedBy: [], ...given });
const driver: Mode[] = [{ work: 10, uses: [{ resource: 0, amount: 100 }] }];
const people = [{ name: 'driver', capacity: 100, kind: 'person' as const }];
const move = { presence: 'optional' as const, modes: driver };

describe('two cars and one bay', () => {
  const problem = blankProblem({
    places: [place('bay', { turnaround: 15 })],
    jobs: [
      { name: 'first', stays: [0], release: 0 },
      { name: 'second', stays: [1], release: 0 },
    ],
    stays: [
      { job: 0, places: [0], optional: false },
      { job: 1, places: [0], optional: false },
    ],
    operations: [work('wash', 0, 100, { stay: 0 }), work('wash', 1, 50, { stay: 1 })],
  });

  test('follow one another with the turnaround between them', () => {
    const { stays } = planned(problem);
    const [before, after] = [...stays].sort((a, b) => a!.from - b!.from);
    expect(after!.from - before!.to).toBe(15);
  });

  test('may both come when a hold by somebody else leaves gaps that fit', () => {
    const schedule = planned({ ...problem, takenPlaces: [{ place: 0, from: 130, to: 300 }] });
    expect(schedule.stays.map((stay) => stay!.from).sort((a, b) => a - b)).toEqual([0, 315]);
  });
});

describe('a car whose next bay is taken', () => {
  const problem: Problem = blankProblem({
    resources: people,
    places: [place('wet bay'), place('dry bay'), place('yard')],
    jobs: [{ name: 'car', stays: [0, 1, 2], release: 0 }],
    stays: [
      { job: 0, places: [0], optional: false },
      { job: 0, places: [2], optional: true, move: 2 },
      { job: 0, places: [1], optional: false, move: 3 },
    ],
    operations: [
      work('wash', 0, 60, { stay: 0 }),
      work('polish', 0, 60, { stay: 2 }),
      work('to the yard', 0, 10, move),
      work('in', 0, 10, move),
    ],
    takenPlaces: [{ place: 1, from: 0, to: 200 }],
  });

  test('waits where it is when nobody needs the place', () => {
    const schedule = planned(problem);
    expect(schedule.stays[1]).toBeNull();
    expect(schedule.stays[0]).toEqual({ place: 0, from: 0, to: 210 });
    expect(check(problem, schedule)).toEqual([]);
  });

  test('waits in the yard when its place is wanted by another', () => {
    const wanted = { ...problem, takenPlaces: [...problem.takenPlaces, { place: 0, from: 90, to: 400 }] };
    const schedule = planned(wanted);
    expect(schedule.stays[1]).toMatchObject({ place: 2 });
    expect(schedule.stays[0]!.to).toBeLessThanOrEqual(90);
    expect(schedule.stays[2]!.from).toBeGreaterThanOrEqual(210);
    expect(check(wanted, schedule)).toEqual([]);
  });

  test('comes later altogether when there is no yard and its place is wanted', () => {
    const noYard: Problem = {
      ...problem,
      jobs: [{ name: 'car', stays: [0, 1], release: 0 }],
      stays: [problem.stays[0]!, { ...problem.stays[2]!, move: 2 }],
      operations: [problem.operations[0]!, { ...problem.operations[1]!, stay: 1 }, problem.operations[3]!],
      takenPlaces: [...problem.takenPlaces, { place: 0, from: 90, to: 400 }],
    };
    const schedule = planned(noYard);
    expect(schedule.stays[0]!.from).toBe(400);
    expect(check(noYard, schedule)).toEqual([]);
  });

  test('for weeks is tried day by day after the first dead ends, where trying each of them would be given up', () => {
    const weeks = 3 * 7 * DAY;
    const everyTwoHours = Array.from({ length: weeks / 120 }, (_, k) => ({
      place: 0,
      from: k * 120 + 90,
      to: k * 120 + 120,
    }));
    const noYard: Problem = {
      ...problem,
      jobs: [{ name: 'car', stays: [0, 1], release: 0 }],
      stays: [problem.stays[0]!, { ...problem.stays[2]!, move: 2 }],
      operations: [problem.operations[0]!, { ...problem.operations[1]!, stay: 1 }, problem.operations[3]!],
      horizon: weeks + 3 * DAY,
      takenPlaces: [{ place: 1, from: 0, to: weeks }, ...everyTwoHours],
    };
    const inserter = new JobInserter(bookOf(noYard));
    expect(inserter.insert(0, THOROUGH)).toBeNull();
    const plan = inserter.insert(0, { ...THOROUGH, leap: DAY })!;
    expect(plan.from[1]).toBeGreaterThanOrEqual(weeks);
    expect(plan.from[0]).toBeLessThan(weeks + DAY);
  });
});

test('a car behind a tandem place comes in only while that place is empty', () => {
  const problem = blankProblem({
    places: [place('front'), place('back', { blockedBy: [0] })],
    jobs: [{ name: 'car', stays: [0], release: 100 }],
    stays: [{ job: 0, places: [1], optional: false }],
    operations: [work('intake', 0, 20, { stay: 0 }), work('handover', 0, 20, { stay: 0 })],
    lags: [endToStart(0, 1)],
    takenPlaces: [{ place: 0, from: 50, to: 150 }],
  });
  const withEnds = { ...problem, jobs: [{ ...problem.jobs[0]!, arrival: 0, handover: 1, ready: 0 }] };
  const schedule = planned(withEnds);
  expect(schedule.stays[0]).toEqual({ place: 1, from: 150, to: 190 });
  expect(check(withEnds, schedule)).toEqual([]);
});

test('a car does not move between the final wipe and move-safe', () => {
  const problem = blankProblem({
    resources: people,
    places: [place('bay'), place('yard')],
    jobs: [{ name: 'car', stays: [0, 1], release: 0 }],
    stays: [
      { job: 0, places: [0], optional: false },
      { job: 0, places: [1], optional: false, move: 2 },
    ],
    operations: [
      work('coat', 0, 60, { stay: 0 }),
      work('move-safe', 0, 0),
      work('out', 0, 10, move),
      work('inspection', 0, 10, { stay: 1 }),
      work('intake', 0, 20, { stay: 0 }),
    ],
    lags: [endToStart(0, 1, 180, 180), endToStart(4, 0)],
    stills: [{ job: 0, from: { operation: 0, edge: 'start' }, to: { operation: 1, edge: 'end' } }],
  });
  const schedule = planned(problem);
  expect(schedule.operations[2]!.start).toBe(260);
  expect(check(problem, schedule)).toEqual([]);
});

test('overtime is worked when the promise would be broken without it, and only then', () => {
  const shift = { from: 480, to: 1020 };
  const late = { from: 1020, to: 1140 };
  const next = { from: 1920, to: 2460 };
  const problem = (promise: number): Problem =>
    blankProblem({
      resources: [{ name: 'lead', capacity: 100, kind: 'person', open: [shift, late, next], overtime: [late] }],
      progresses: [{ at: [480, 1140, 1920, 2460], rate: [1, 0, 1, 0] }],
      places: [place('bay')],
      jobs: [{ name: 'car', stays: [0], release: 960, ready: 0, promise: { at: promise, weight: 1 } }],
      stays: [{ job: 0, places: [0], optional: false }],
      operations: [
        work('polish', 0, 90, { stay: 0, modes: [{ work: 90, progress: 0, uses: [{ resource: 0, amount: 100 }] }] }),
      ],
      tiers: ['broken', 'tardiness', 'overtime', 'lead'],
    });
  expect(planned(problem(1100)).operations[0]).toMatchObject({ start: 960, end: 1050 });
  expect(planned(problem(2460)).operations[0]!.start).toBe(1920);
});

test('a later drop-off shortens a stay at the pickup it had, where that is not to be put off', () => {
  const book = bookOf(makeBook({ seed: 3, jobs: 40, bays: 4, people: 5 }));
  const inserter = new JobInserter(book);
  let shorter = 0;
  let putOff = 0;
  for (const [j, job] of book.jobs.entries()) {
    const soon = inserter.insert(j, QUICK)!;
    const snug = inserter.insert(j, SNUG)!;
    const brief = inserter.insert(j, BRIEF)!;
    expect(pickup(job, snug)).toBeLessThanOrEqual(pickup(job, soon));
    const saved = snug.end[job.ready]! - dropOff(job, snug) - (soon.end[job.ready]! - dropOff(job, soon));
    expect(saved).toBeLessThanOrEqual(0);
    if (saved < 0) shorter++;
    if (pickup(job, brief) > pickup(job, soon)) putOff++;
    book.enter(j, snug);
  }
  expect(shorter).toBeGreaterThan(5);
  expect(putOff).toBeGreaterThan(0);
});

test('of two bays a car comes to the one in which it is done with first, though the other is free sooner', () => {
  const by = (resource: number, place: number): Mode => ({
    work: 60,
    places: [place],
    uses: [{ resource, amount: 100 }],
  });
  const problem = blankProblem({
    resources: [
      { name: 'one', capacity: 100, kind: 'person', open: [{ from: 300, to: 1000 }] },
      { name: 'other', capacity: 100, kind: 'person', open: [{ from: 0, to: 1000 }] },
    ],
    places: [place('bay'), place('other bay')],
    jobs: [{ name: 'car', stays: [0], release: 0 }],
    stays: [{ job: 0, places: [0, 1], optional: false }],
    operations: [
      work('wash', 0, 60, { stay: 0 }),
      work('polish', 0, 60, { stay: 0, modes: [by(0, 0), by(1, 1)] }),
      work('inspection', 0, 30, { stay: 0 }),
    ],
    lags: [endToStart(0, 1), endToStart(1, 2)],
    takenPlaces: [{ place: 1, from: 0, to: 50 }],
  });
  const schedule = planned(problem);
  expect(schedule.stays[0]).toMatchObject({ place: 1, from: 50 });
  expect(schedule.operations[2]).toMatchObject({ start: 170, end: 200 });
  expect(check(problem, schedule)).toEqual([]);
});

describe('a car that has dried and cannot be gone on with before it counts as dusty again', () => {
  const masked = (from: number): Problem =>
    blankProblem({
      now: 200,
      horizon: 3000,
      resources: people,
      progresses: [{ at: [from, 3000], rate: [1, 0] }],
      places: [place('wet bay'), place('dry bay'), place('yard')],
      jobs: [{ name: 'car', stays: [0, 1, 2, 3], release: 0, ready: 2 }],
      stays: [
        { job: 0, places: [0], optional: false, fixed: { place: 0, from: 0 } },
        { job: 0, places: [2], optional: false, fixed: { place: 2, from: 100 } },
        { job: 0, places: [0], optional: true, move: 3 },
        { job: 0, places: [1], optional: false, move: 4 },
      ],
      operations: [
        work('dry', 0, 60, { stay: 0, fixed: { start: 40, end: 100, mode: 0, by: 'fact' } }),
        work('wash again', 0, 45, { stay: 2, presence: 'optional' }),
        work('mask', 0, 30, { stay: 3, modes: [{ work: 30, progress: 0, uses: [] }] }),
        work('back into the wet bay', 0, 10, move),
        work('in', 0, 10, move),
      ],
      lags: [{ ...endToStart(0, 2, 0, 300), remedy: [1] }, endToStart(0, 1), endToStart(1, 2, 0, 300)],
    });

  test('is washed again first, in a stay that comes before', () => {
    const problem = masked(1000);
    const schedule = planned(problem);
    expect(check(problem, schedule)).toEqual([]);
    expect(schedule.stays[2]).toMatchObject({ place: 0 });
    expect(schedule.operations[1]!.end).toBeLessThanOrEqual(schedule.operations[2]!.start);
    expect(schedule.operations[2]!.start).toBeGreaterThanOrEqual(1000);
  });

  test('is not, where it can', () => {
    const problem = masked(0);
    const schedule = planned(problem);
    expect(check(problem, schedule)).toEqual([]);
    expect([schedule.stays[2], schedule.operations[1]]).toEqual([null, null]);
    expect(schedule.operations[2]!.start).toBe(210);
  });
});
