import { expect, test } from 'vitest';
import { check } from '../../../src/engine/check/check.ts';
import type { Book } from '../../../src/engine/construct/book.ts';
import { enterCarefully } from '../../../src/engine/construct/enter-carefully.ts';
import { earliestPromise } from '../../../src/engine/construct/entry-order.ts';
import { firstPlan } from '../../../src/engine/construct/first-plan.ts';
import { JobInserter } from '../../../src/engine/construct/insert-job.ts';
import { BRIEF } from '../../../src/engine/construct/insert-options.ts';
import { scheduleOf } from '../../../src/engine/construct/schedule-of.ts';
import { compareTiers } from '../../../src/engine/improve/tiers.ts';
import { makeBook } from '../../bench/books/book.ts';
import { bookOf } from './small-shop.ts';

/** A book in which about half the cars are late, entered by the promises it made. */
function loadedBook() {
  const problem = makeBook({ seed: 4, jobs: 60, bays: 4, people: 5 });
  const book = bookOf(problem);
  const inserter = new JobInserter(book);
  expect(firstPlan(book, inserter, { order: earliestPromise, effort: BRIEF, rounds: 6 }, () => false)).toEqual([]);
  return { problem, book, inserter };
}

const objectiveOf = (book: Book) => {
  const value = new Float64Array(book.shop.problem.tiers.length);
  book.objective(value);
  return value;
};

test('a loaded book that is entered once more, with all effort, breaks far fewer promises, and no rule', () => {
  const { problem, book, inserter } = loadedBook();
  const before = objectiveOf(book);
  let best = before;
  enterCarefully(
    book,
    inserter,
    () => false,
    () => {
      const value = objectiveOf(book);
      const isBetter = compareTiers(value, best) < 0;
      if (isBetter) best = value;
      return isBetter;
    },
  );
  expect(objectiveOf(book)).toEqual(best);
  expect(best[0]).toBeLessThan(0.8 * before[0]!);
  expect(check(problem, scheduleOf(book))).toEqual([]);
});

test('a plan that it does not better is left as it was, and so is one when there is no time', () => {
  const { book, inserter } = loadedBook();
  const plans = book.plans.slice();
  enterCarefully(
    book,
    inserter,
    () => false,
    () => false,
  );
  expect(book.plans).toEqual(plans);
  let asked = 0;
  enterCarefully(
    book,
    inserter,
    () => ++asked > 20,
    () => true,
  );
  expect(book.plans).toEqual(plans);
});
