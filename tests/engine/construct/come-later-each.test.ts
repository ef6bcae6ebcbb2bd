import { expect, test } from 'vitest';
import { check } from '../../../src/engine/check/check.ts';
import { comeLaterEach } from '../../../src/engine/construct/come-later-each.ts';
import { leastSlack } from '../../../src/engine/construct/entry-order.ts';
import { firstPlan } from '../../../src/engine/construct/first-plan.ts';
import { JobInserter } from '../../../src/engine/construct/insert-job.ts';
import { QUICK } from '../../../src/engine/construct/insert-options.ts';
import { dropOff, pickup } from '../../../src/engine/construct/job-cost.ts';
import { scheduleOf } from '../../../src/engine/construct/schedule-of.ts';
import { makeBook } from '../../bench/books/book.ts';
import { bookOf } from './small-shop.ts';

test('cars come later where they then stand for less time, nobody at the cost of a pickup or of another', () => {
  const problem = makeBook({ seed: 2, jobs: 40, bays: 4, people: 5 });
  const book = bookOf(problem);
  const inserter = new JobInserter(book);
  expect(firstPlan(book, inserter, { order: leastSlack(3, 7), effort: QUICK, rounds: 6 }, () => false)).toEqual([]);
  const before = book.plans.slice();
  comeLaterEach(book, inserter, () => false);
  let later = 0;
  for (const [j, job] of book.jobs.entries()) {
    const [old, plan] = [before[j]!, book.plans[j]!];
    expect(pickup(job, plan)).toBeLessThanOrEqual(pickup(job, old));
    if (plan === old) continue;
    later++;
    expect(dropOff(job, plan)).toBeGreaterThan(dropOff(job, old));
    expect(plan.end[job.ready]! - dropOff(job, plan)).toBeLessThan(old.end[job.ready]! - dropOff(job, old));
  }
  expect(later).toBeGreaterThan(3);
  expect(check(problem, scheduleOf(book))).toEqual([]);
});
