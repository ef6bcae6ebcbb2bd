import { describe, expect, test } from 'vitest';
import { ShopBound } from '../../../src/engine/bound/bound.ts';
import { check } from '../../../src/engine/check/check.ts';
import { BY_SLACK, firstPlan } from '../../../src/engine/construct/first-plan.ts';
import { JobInserter } from '../../../src/engine/construct/insert-job.ts';
import { QUICK } from '../../../src/engine/construct/insert-options.ts';
import { reinsertEach } from '../../../src/engine/construct/reinsert-each.ts';
import { scheduleOf } from '../../../src/engine/construct/schedule-of.ts';
import { compareTiers } from '../../../src/engine/improve/tiers.ts';
import { makeBook } from '../../bench/books/book.ts';
import { bookOf } from './small-shop.ts';

function entered(seed: number) {
  const problem = makeBook({ seed, jobs: 20, bays: 4, people: 5 });
  const book = bookOf(problem);
  const inserter = new JobInserter(book);
  firstPlan(book, inserter, { ...BY_SLACK, effort: QUICK }, () => false);
  return { problem, book, inserter, bound: new ShopBound(book.shop, book.jobs) };
}

describe('entering each car anew while the others stay', () => {
  test.each([1, 2, 3])('makes a better plan that obeys every rule (book %i)', (seed) => {
    const { problem, book, inserter, bound } = entered(seed);
    const before = new Float64Array(problem.tiers.length);
    book.objective(before);
    const after = before.slice();
    let told = 0;
    reinsertEach(
      book,
      inserter,
      bound,
      () => false,
      () => {
        book.objective(after);
        told++;
      },
    );
    expect(compareTiers(after, before)).toBeLessThan(0);
    expect(told).toBe(1);
    expect(check(problem, scheduleOf(book))).toEqual([]);
  });

  test('changes nothing when it is stopped at once', () => {
    const { book, inserter, bound } = entered(1);
    const before = book.plans.slice();
    reinsertEach(book, inserter, bound, () => true);
    expect(book.plans).toEqual(before);
  });
});
