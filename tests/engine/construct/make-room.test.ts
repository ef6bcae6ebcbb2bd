import { describe, expect, it } from 'vitest';
import { check } from '../../../src/engine/check/check.ts';
import { JobInserter } from '../../../src/engine/construct/insert-job.ts';
import { THOROUGH } from '../../../src/engine/construct/insert-options.ts';
import { makeRoom } from '../../../src/engine/construct/make-room.ts';
import { scheduleOf } from '../../../src/engine/construct/schedule-of.ts';
import type { Problem } from '../../../src/engine/problem/problem.ts';
import { blankProblem, work } from '../random/blank-problem.ts';
import { bookOf } from './small-shop.ts';

const keepGoing = () => false;
const ENOUGH = 1_000_000;

/** One bay; each car needs it for 100 minutes from its drop-off, which is told, or open. */
function oneBay(told: readonly (number | null)[], horizon = 1_000): Problem {
  return blankProblem({
    horizon,
    places: [{ name: 'bay', turnaround: 0, blockedBy: [] }],
    jobs: told.map((_, job) => ({ name: `car ${job}`, stays: [job], release: 0, arrival: job, ready: job })),
    stays: told.map((_, job) => ({ job, places: [0], optional: false })),
    operations: told.map((at, job) =>
      work(`work ${job}`, job, 100, {
        stay: job,
        ...(at === null ? {} : { fixed: { start: at, by: 'frozen' as const } }),
      }),
    ),
  });
}

function entered(problem: Problem, jobs: readonly number[]) {
  const book = bookOf(problem);
  const inserter = new JobInserter(book);
  for (const j of jobs) book.enter(j, inserter.insert(j, THOROUGH)!);
  return { book, inserter };
}

const blockedJob = (job: number) => ({ job, operation: -1, obstacle: 'place' as const, index: 0 });

describe('room for a car whose drop-off was told', () => {
  it('is made by a car that can come at another time', () => {
    const problem = oneBay([null, 50]);
    const { book, inserter } = entered(problem, [0]);
    expect(book.plans[0]!.start[0]).toBe(0);
    expect(inserter.insert(1, THOROUGH)).toBeNull();
    expect(makeRoom(book, inserter, [blockedJob(1)], ENOUGH, keepGoing)).toEqual([]);
    const schedule = scheduleOf(book);
    expect(schedule.operations.map((each) => each!.start)).toEqual([150, 50]);
    expect(check(problem, schedule)).toEqual([]);
  });

  it('is made by several, when one is not enough', () => {
    const problem = oneBay([null, null, 50]);
    const { book, inserter } = entered(problem, [0, 1]);
    expect(makeRoom(book, inserter, [blockedJob(2)], ENOUGH, keepGoing)).toEqual([]);
    expect(scheduleOf(book).operations.map((each) => each!.start)).toEqual([150, 250, 50]);
  });

  it('cannot be made by one that was told its drop-off too, and the book is left as it was', () => {
    const { book, inserter } = entered(oneBay([0, 50]), [0]);
    const before = book.plans.slice();
    expect(makeRoom(book, inserter, [blockedJob(1)], ENOUGH, keepGoing).map(({ job }) => job)).toEqual([1]);
    expect(book.plans).toEqual(before);
  });

  it('is given up when its work is used up, and the book is left as it was', () => {
    const { book, inserter } = entered(oneBay([null, 50]), [0]);
    const before = book.plans.slice();
    expect(makeRoom(book, inserter, [blockedJob(1)], 0, keepGoing).map(({ job }) => job)).toEqual([1]);
    expect(book.plans).toEqual(before);
  });

  it('is not made at all once somebody wants the search to stop', () => {
    const { book, inserter } = entered(oneBay([null, 50]), [0]);
    expect(makeRoom(book, inserter, [blockedJob(1)], ENOUGH, () => true).map(({ job }) => job)).toEqual([1]);
    expect(book.plans[1]).toBeNull();
  });
});
