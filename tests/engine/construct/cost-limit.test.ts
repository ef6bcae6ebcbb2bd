import { describe, expect, test } from 'vitest';
import { NEVER } from '../../../src/engine/calendar/never.ts';
import { latestFor, limitFrom } from '../../../src/engine/construct/cost-limit.ts';
import type { JobModel } from '../../../src/engine/construct/job-model.ts';
import { makeBook } from '../../bench/books/book.ts';
import { bookOf } from './small-shop.ts';

const some = bookOf(makeBook({ seed: 1, jobs: 1, bays: 4, people: 5 })).jobs[0]!;
const job: JobModel = { ...some, promiseAt: 1000, promiseWeight: 2, dueAt: 900, dueWeight: 1 };
const tiers = ['broken', 'tardiness', 'overtime', 'lead'] as const;

/** Weighted minutes after promise and due, as the tardiness tier counts them. */
const tardiness = (at: number) => 2 * Math.max(0, at - 1000) + Math.max(0, at - 900);

describe('the latest pickup for a given tardiness', () => {
  test('costs no more, and a minute later costs more, as counting minute by minute says', () => {
    for (let most = 0; most < 700; most++) {
      const at = latestFor(job, most);
      expect(tardiness(at)).toBeLessThanOrEqual(most);
      expect(tardiness(at + 1)).toBeGreaterThan(most);
    }
  });

  test('is never when nothing is promised or wanted', () => {
    expect(latestFor({ ...job, promiseAt: NEVER, promiseWeight: 0, dueAt: NEVER, dueWeight: 0 }, 0)).toBe(NEVER);
  });
});

describe('what a job may cost', () => {
  test('binds its lead only when nothing is left to save in the tiers before', () => {
    expect(limitFrom(job, tiers, [0, 0, 0, 480], [0, 0, 0, 300])).toEqual({ latestPickup: 900, mostLead: 480 });
    expect(limitFrom(job, tiers, [0, 50, 0, 480], [0, 0, 0, 300])).toEqual({ latestPickup: 950, mostLead: NEVER });
  });

  test('lets a promise be broken that the others leave room to break', () => {
    expect(limitFrom(job, tiers, [2, 0, 0, 0], [0, 0, 0, 0])).toEqual({ latestPickup: NEVER, mostLead: NEVER });
    expect(limitFrom(job, tiers, [1, 0, 0, 0], [0, 0, 0, 0])).toEqual({ latestPickup: 1000, mostLead: NEVER });
  });

  test('is nothing at all when less is allowed than no plan can beat', () => {
    expect(limitFrom(job, tiers, [0, 0, 0, 299], [0, 0, 0, 300])).toBeNull();
  });
});
