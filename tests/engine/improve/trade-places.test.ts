import { describe, expect, test } from 'vitest';
import { ShopBound } from '../../../src/engine/bound/bound.ts';
import { BY_SLACK, firstPlan } from '../../../src/engine/construct/first-plan.ts';
import { JobInserter } from '../../../src/engine/construct/insert-job.ts';
import { dropOff } from '../../../src/engine/construct/job-cost.ts';
import { DropOffTargets, dropOffsInTime } from '../../../src/engine/improve/drop-off-targets.ts';
import { Random } from '../../../src/engine/improve/random.ts';
import { tradePlaces } from '../../../src/engine/improve/trade-places.ts';
import { makeBook } from '../../bench/books/book.ts';
import { bookOf } from '../construct/small-shop.ts';

const book = bookOf(makeBook({ seed: 3, jobs: 24, bays: 4, people: 5 }));
firstPlan(book, new JobInserter(book), BY_SLACK, () => false);
const bound = new ShopBound(book.shop, book.jobs);
// A profile raises the bound, which says who is far from it.
for (const j of book.jobs.keys()) bound.profile(j);

function drawn(seed: number, size: number) {
  const chosen: number[] = [];
  const trade = tradePlaces(book, new Random(seed), size, chosen, bound);
  return { chosen, trade };
}

const SEEDS = Array.from({ length: 60 }, (_, k) => k + 1);
const traded = SEEDS.map((seed) => drawn(seed, 5)).filter(({ trade }) => trade !== null);

describe('a job that takes the place of others', () => {
  test('is found in a book in which cars stay longer than they would alone', () => {
    expect(traded.length).toBeGreaterThan(SEEDS.length / 2);
    expect(traded.some(({ chosen }) => chosen.length > 1)).toBe(true);
  });

  test('comes first, with others of the book, none twice, no more than asked, the same for the same seed', () => {
    for (const seed of SEEDS) {
      const { chosen, trade } = drawn(seed, 4);
      expect(chosen.length).toBeLessThanOrEqual(4);
      expect(new Set(chosen).size).toBe(chosen.length);
      if (trade !== null) expect(trade.seed).toBe(chosen[0]);
      expect(drawn(seed, 4)).toEqual({ chosen, trade });
    }
  });

  test('would stay shorter alone from then on than it does, and be ready when it is wanted', () => {
    for (const { trade } of traded) {
      const { seed, at, vacated } = trade!;
      const job = book.jobs[seed]!;
      const plan = book.plans[seed]!;
      const profile = bound.profile(seed)!;
      const k = profile.at.indexOf(at);
      expect(vacated).toBe(dropOff(job, plan));
      expect(profile.lead[k]).toBeLessThan(plan.end[job.ready]! - vacated);
      expect(k).toBeLessThan(dropOffsInTime(profile, job));
      if (k > 0) expect(at + profile.lead[k]!).toBeLessThanOrEqual(Math.min(job.promiseAt, job.dueAt));
    }
  });

  test('finds the others there at that time', () => {
    for (const { chosen, trade } of traded) {
      const { seed, at } = trade!;
      const { at: dropOffs, lead } = bound.profile(seed)!;
      const to = at + lead[dropOffs.indexOf(at)]!;
      for (const j of chosen.slice(1)) {
        const { place, from, to: until } = book.plans[j]!;
        const isThere = place.some((each, k) => each >= 0 && from[k]! < to && until[k]! > at);
        expect(isThere).toBe(true);
      }
    }
  });

  test('is entered at that time, and about half of the others where it was', () => {
    const { trade } = traded[0]!;
    const targets = new DropOffTargets(book, bound, new Random(2));
    expect(targets.draw(trade!.seed, 0, trade)).toBe(trade!.at);
    const other = trade!.seed === 0 ? 1 : 0;
    const draws = Array.from({ length: 400 }, () => targets.draw(other, 0, trade));
    const there = draws.filter((at) => at <= trade!.vacated && at > trade!.vacated - 1440).length;
    expect(there).toBeGreaterThan(150);
  });
});
