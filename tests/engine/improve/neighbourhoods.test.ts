import { describe, expect, test } from 'vitest';
import { ShopBound } from '../../../src/engine/bound/bound.ts';
import { BY_SLACK, firstPlan } from '../../../src/engine/construct/first-plan.ts';
import { JobInserter } from '../../../src/engine/construct/insert-job.ts';
import { dropOff, pickup } from '../../../src/engine/construct/job-cost.ts';
import {
  aboutTheSameTime,
  farFromIdeal,
  lateAndInItsWay,
  longStay,
  type Neighbourhood,
  onePersonsDay,
  sameBay,
} from '../../../src/engine/improve/neighbourhoods.ts';
import { Random } from '../../../src/engine/improve/random.ts';
import { makeBook } from '../../bench/books/book.ts';
import { bookOf } from '../construct/small-shop.ts';

const book = bookOf(makeBook({ seed: 3, jobs: 24, bays: 4, people: 5 }));
firstPlan(book, new JobInserter(book), BY_SLACK, () => false);
const bound = new ShopBound(book.shop, book.jobs);

function choose(neighbourhood: Neighbourhood, seed: number, size: number): number[] {
  const chosen: number[] = [];
  neighbourhood(book, new Random(seed), size, chosen, bound);
  return chosen;
}

describe('every choice of jobs to plan anew', () => {
  test.each([
    ['in one bay', sameBay],
    ['late and in its way', lateAndInItsWay],
    ["on one person's day", onePersonsDay],
    ['around a long stay', longStay],
    ['about the same time', aboutTheSameTime],
    ['far from what it could be', farFromIdeal],
  ])('%s has jobs of the book, none twice, no more than asked, the same for the same seed', (_, neighbourhood) => {
    for (let seed = 1; seed <= 40; seed++) {
      const size = 1 + (seed % 7);
      const chosen = choose(neighbourhood, seed, size);
      expect(chosen.length).toBeGreaterThan(0);
      expect(chosen.length).toBeLessThanOrEqual(size);
      expect(new Set(chosen).size).toBe(chosen.length);
      expect(chosen.every((j) => book.plans[j] !== null)).toBe(true);
      expect(choose(neighbourhood, seed, size)).toEqual(chosen);
    }
  });
});

test('a late job comes with jobs that are in the shop while it waits or is worked on', () => {
  const isLate = (j: number) =>
    pickup(book.jobs[j]!, book.plans[j]!) > Math.min(book.jobs[j]!.promiseAt, book.jobs[j]!.dueAt);
  expect([...book.jobs.keys()].some(isLate)).toBe(true);
  for (let seed = 1; seed <= 20; seed++) {
    const [late, ...others] = choose(lateAndInItsWay, seed, 5);
    expect(isLate(late!)).toBe(true);
    for (const j of others) {
      expect(dropOff(book.jobs[j]!, book.plans[j]!)).toBeLessThan(pickup(book.jobs[late!]!, book.plans[late!]!));
      expect(pickup(book.jobs[j]!, book.plans[j]!)).toBeGreaterThan(book.jobs[late!]!.release);
    }
  }
});
