import { describe, expect, test } from 'vitest';
import { NEVER } from '../../../src/engine/calendar/never.ts';
import { BY_SLACK, firstPlan } from '../../../src/engine/construct/first-plan.ts';
import { JobInserter } from '../../../src/engine/construct/insert-job.ts';
import { pickup } from '../../../src/engine/construct/job-cost.ts';
import { LatestTimes } from '../../../src/engine/construct/latest-times.ts';
import { makeBook } from '../../bench/books/book.ts';
import { blankProblem } from '../random/blank-problem.ts';
import { bookOf } from './small-shop.ts';

test('no plan of a job has an operation later than the latest that its own pickup, or being ready, leaves it', () => {
  const book = bookOf(makeBook({ seed: 5, jobs: 20, bays: 4, people: 5 }));
  firstPlan(book, new JobInserter(book), BY_SLACK, () => false);
  const latest = new LatestTimes();
  let told = 0;
  for (const [j, job] of book.jobs.entries()) {
    const plan = book.plans[j]!;
    for (const [target, edge, at] of [
      [job.handover, 'start', pickup(job, plan)],
      [job.ready, 'end', plan.end[job.ready]!],
    ] as const) {
      latest.read(job, target, edge, at);
      for (let i = 0; i < job.operations.length; i++) {
        if (plan.mode[i]! < 0) continue;
        expect(plan.start[i]!).toBeLessThanOrEqual(latest.start[i]!);
        expect(plan.end[i]!).toBeLessThanOrEqual(latest.end[i]!);
        if (latest.end[i]! < NEVER) told++;
      }
    }
  }
  expect(told).toBeGreaterThan(500);
});

describe('the latest start in somebody’s hours', () => {
  /** Hours of 60 minutes from 100, 300 and 500 on, the second at double pace. */
  const progress = { at: [100, 160, 300, 360, 500, 560], rate: [1, 0, 2, 0, 1, 0] };
  const open = (minute: number) =>
    [1, 2, 1][[100, 300, 500].findIndex((from) => minute >= from && minute < from + 60)] ?? 0;

  /** By counting minutes back: the latest minute from which the work is done by `end`; unbroken unless pausable. */
  function counted(end: number, work: number, pausable: boolean): number {
    for (let start = end - 1; start >= 0; start--) {
      let done = 0;
      let minute = start;
      while (done < work && minute < end && (pausable || open(minute) > 0)) done += open(minute++);
      if (done >= work && open(start) > 0) return start;
    }
    return -1;
  }

  test.each([false, true])('is what counting minutes finds (pausable: %s)', (pausable) => {
    for (const work of [1, 7, 40, 60, 61, 110]) {
      const { jobs } = bookOf(
        blankProblem({
          horizon: 1000,
          progresses: [progress],
          jobs: [{ name: 'car', stays: [], release: 0, ready: 0 }],
          operations: [
            { name: 'work', job: 0, modes: [{ work, progress: 0, uses: [] }], pausable, presence: 'always' },
          ],
        }),
      );
      const latest = new LatestTimes();
      for (let end = 90; end < 620; end += 7) {
        latest.read(jobs[0]!, 0, 'end', end);
        expect([work, end, latest.start[0]!]).toEqual([work, end, counted(end, work, pausable)]);
      }
    }
  });
});
