import { expect, test } from 'vitest';
import { check } from '../../../src/engine/check/check.ts';
import { enterSchedule } from '../../../src/engine/construct/enter-schedule.ts';
import { scheduleOf } from '../../../src/engine/construct/schedule-of.ts';
import { solve } from '../../../src/engine/solve.ts';
import { makeBook } from '../../bench/books/book.ts';
import { blankProblem, endToStart, work } from '../random/blank-problem.ts';
import { bookOf, planned } from './small-shop.ts';

const problem = makeBook({ seed: 21, jobs: 8, bays: 4, people: 5 });
const schedule = planned(problem);

test('a plan that obeys every rule is entered whole', () => {
  const book = bookOf(problem);
  enterSchedule(book, schedule);
  expect(scheduleOf(book)).toEqual(schedule);
});

test('only the jobs that a new absence concerns are withdrawn', () => {
  const wash = problem.operations.findIndex((operation) => operation.job === 3 && operation.name === 'wash');
  const { start, end, mode } = schedule.operations[wash]!;
  const person = problem.operations[wash]!.modes[mode]!.uses[0]!.resource;
  const away = { ...problem, takenResources: [{ resource: person, amount: 100, from: start, to: end }] };
  const book = bookOf(away);
  enterSchedule(book, schedule);
  expect(book.plans.flatMap((plan, j) => (plan === null ? [j] : []))).toEqual([3]);
});

test('a job that is new to the plan is left to be entered', () => {
  const operations = schedule.operations.map((planned, o) => (problem.operations[o]!.job === 7 ? null : planned));
  const stays = schedule.stays.map((planned, s) => (problem.stays[s]!.job === 7 ? null : planned));
  const book = bookOf(problem);
  enterSchedule(book, { operations, stays });
  expect(book.plans.map((plan) => plan === null)).toEqual([false, false, false, false, false, false, false, true]);
});

test('a job is withdrawn too when somebody it is to be done by is at work on a car that the schedule lacks', () => {
  const wash = (job: number) => problem.operations.findIndex((each) => each.job === job && each.name === 'wash');
  const { start, end, mode } = schedule.operations[wash(3)]!;
  const { resource } = problem.operations[wash(3)]!.modes[mode]!.uses[0]!;
  const same = problem.operations[wash(7)]!.modes.findIndex(({ uses }) => uses[0]!.resource === resource);
  const operations = problem.operations.map((each, o) =>
    o === wash(7) ? { ...each, fixed: { start, end, mode: same, by: 'fact' as const } } : each,
  );
  const lacks = {
    operations: schedule.operations.map((each, o) => (problem.operations[o]!.job === 7 ? null : each)),
    stays: schedule.stays.map((each, s) => (problem.stays[s]!.job === 7 ? null : each)),
  };
  const book = bookOf({ ...problem, operations });
  enterSchedule(book, lacks);
  expect(book.plans.flatMap((plan, j) => (plan === null ? [j] : []))).toEqual([3, 7]);
});

test('a car that is to come this very minute is withdrawn where one that the schedule lacks still stands, and comes to another place', () => {
  const by = (resource: number, minutes: number) => [{ work: minutes, uses: [{ resource, amount: 100 }] }];
  const problem = blankProblem({
    now: 100,
    resources: ['lead', 'second'].map((name) => ({ name, capacity: 100, kind: 'person' as const })),
    places: ['yard', 'other yard'].map((name) => ({ name, turnaround: 0, blockedBy: [] })),
    jobs: [
      { name: 'not fetched', stays: [0], release: 0, handover: 0, ready: 0 },
      { name: 'comes', stays: [1], release: 100, arrival: 1, handover: 2, ready: 1 },
    ],
    stays: [
      { job: 0, places: [0], optional: false, fixed: { place: 0, from: 0 } },
      { job: 1, places: [0, 1], optional: false },
    ],
    operations: [
      work('handover', 0, 10, { stay: 0, modes: by(0, 10) }),
      work('intake', 1, 20, { stay: 1, modes: by(1, 20), fixed: { start: 100, by: 'frozen' } }),
      work('handover', 1, 10, { stay: 1, modes: by(1, 10) }),
    ],
    lags: [endToStart(1, 2)],
  });
  const warmStart = {
    operations: [null, { start: 100, end: 120, mode: 0 }, { start: 120, end: 130, mode: 0 }],
    stays: [null, { place: 0, from: 100, to: 130 }],
  };
  const { schedule } = solve(problem, { seed: 1, workLimit: 0, warmStart });
  expect(check(problem, schedule!)).toEqual([]);
  expect(schedule!.stays[1]).toMatchObject({ place: 1, from: 100 });
});
