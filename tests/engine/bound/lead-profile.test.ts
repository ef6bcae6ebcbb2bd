import { describe, expect, test } from 'vitest';
import { AloneTimes } from '../../../src/engine/bound/alone.ts';
import { ShopBound } from '../../../src/engine/bound/bound.ts';
import { JobInserter } from '../../../src/engine/construct/insert-job.ts';
import { BRIEF } from '../../../src/engine/construct/insert-options.ts';
import { dropOff, pickup } from '../../../src/engine/construct/job-cost.ts';
import { makeBook } from '../../bench/books/book.ts';
import { bookOf } from '../construct/small-shop.ts';
import { randomShop } from '../random/random-shop.ts';

describe('the shortest stay of a job alone in the shop', () => {
  test('is beaten by no plan, from whichever drop-off it is looked for', () => {
    let compared = 0;
    for (let seed = 0; seed < 15; seed++) {
      const book = bookOf(randomShop(seed));
      const bound = new ShopBound(book.shop, book.jobs);
      const inserter = new JobInserter(book);
      for (const [j, job] of book.jobs.entries()) {
        const profile = bound.profile(j);
        if (profile === null) continue;
        for (let from = job.release; from < book.shop.horizon; from += 397) {
          const plan = inserter.insert(j, { ...BRIEF, notBefore: from });
          if (plan === null) break;
          expect(plan.end[job.ready]! - dropOff(job, plan)).toBeGreaterThanOrEqual(profile.least);
          expect(pickup(job, plan)).toBeGreaterThanOrEqual(bound.jobs[j]!.pickup);
          compared++;
        }
      }
    }
    expect(compared).toBeGreaterThan(200);
  });

  test('falls short of the shortest that looking at every minute finds by no more than its tolerance', () => {
    const book = bookOf(makeBook({ seed: 2, jobs: 3, bays: 4, people: 5 }));
    const bound = new ShopBound(book.shop, book.jobs);
    const alone = new AloneTimes(book.shop);
    for (const [j, job] of book.jobs.entries()) {
      let shortest = Number.POSITIVE_INFINITY;
      for (let from = job.release; from < job.release + 14 * 24 * 60; from++) {
        if (!job.dropOffOpen!.contains(from)) continue;
        alone.read(job, from);
        shortest = Math.min(shortest, alone.end[job.ready]! - from);
      }
      const { least } = bound.profile(j)!;
      expect(least).toBeLessThanOrEqual(shortest);
      expect(least).toBeGreaterThanOrEqual(shortest - Math.max(15, Math.ceil(0.02 * shortest)));
    }
  });
});
