import { expect, test } from 'vitest';
import { enterSchedule } from '../../../src/engine/construct/enter-schedule.ts';
import { scheduleOf } from '../../../src/engine/construct/schedule-of.ts';
import { makeBook } from '../../bench/books/book.ts';
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
