import { expect, test } from 'vitest';
import { BY_SLACK, firstPlan } from '../../../src/engine/construct/first-plan.ts';
import { JobInserter } from '../../../src/engine/construct/insert-job.ts';
import { pickup } from '../../../src/engine/construct/job-cost.ts';
import { NO_TAIL } from '../../../src/engine/construct/tails.ts';
import { makeBook } from '../../bench/books/book.ts';
import { bookOf } from './small-shop.ts';

test('no plan of a job is nearer to its pickup, or to being ready, than the tails of its operations say', () => {
  const book = bookOf(makeBook({ seed: 5, jobs: 20, bays: 4, people: 5 }));
  firstPlan(book, new JobInserter(book), BY_SLACK, () => false);
  let told = 0;
  for (const [j, job] of book.jobs.entries()) {
    const plan = book.plans[j]!;
    for (let i = 0; i < job.operations.length; i++) {
      if (plan.mode[i]! < 0) continue;
      for (const [tails, at] of [
        [job.toPickup, pickup(job, plan)],
        [job.toReady, plan.end[job.ready]!],
      ] as const) {
        expect(at - plan.start[i]!).toBeGreaterThanOrEqual(tails.fromStart[i]!);
        expect(at - plan.end[i]!).toBeGreaterThanOrEqual(tails.fromEnd[i]!);
        if (tails.fromEnd[i]! > NO_TAIL) told++;
      }
    }
  }
  expect(told).toBeGreaterThan(500);
});

test('no work of a stay ends nearer to the last of it than the tails of its stage say', () => {
  const book = bookOf(makeBook({ seed: 6, jobs: 20, bays: 4, people: 5 }));
  firstPlan(book, new JobInserter(book), BY_SLACK, () => false);
  let told = 0;
  for (const [j, job] of book.jobs.entries()) {
    const plan = book.plans[j]!;
    for (const { opsFrom, opsTo, tails } of job.stages) {
      const ends = [];
      for (let i = opsFrom; i < opsTo; i++)
        if (plan.mode[i]! >= 0 && job.operations[i]!.inStay) ends.push(plan.end[i]!);
      for (let i = opsFrom; i < opsTo; i++) {
        if (plan.mode[i]! < 0) continue;
        expect(Math.max(plan.end[i]!, ...ends) - plan.end[i]!).toBeGreaterThanOrEqual(tails[i - opsFrom]!);
        if (tails[i - opsFrom]! > 0) told++;
      }
    }
  }
  expect(told).toBeGreaterThan(50);
});
