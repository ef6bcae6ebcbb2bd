import { expect, it } from 'vitest';
import { validate } from '../../src/engine/problem/validate.ts';
import { demoBook } from '../../src/trade/demo/demo-book.ts';
import { formulate } from '../../src/trade/formulate/formulate.ts';
import { Job } from '../../src/trade/model/job.ts';
import type { Instant } from '../../src/trade/model/time.ts';
import { demo } from './demo-shop.ts';

const now = Date.UTC(2026, 10, 30, 5) as Instant;

it('the whole demo book can be written as a scheduling problem: no job is left out, nothing contradicts itself', () => {
  const jobs = demoBook(demo.book, demo.shop, now).map((draft, index) =>
    Job.parse({
      ...draft,
      id: `job${index + 1}`,
      state: 'booked',
      dropOffAt: null,
      promise: null,
      holdUntil: null,
      depositNote: '',
      arranged: null,
      inspection: null,
      scope: null,
      priceMinor: 0,
      createdAt: now,
      version: 0,
    }),
  );
  const book = { ...demo, jobs, events: [], readings: [], previousPlan: null, now, horizonDays: 21 };
  const { problem, leftOut, notices } = formulate(book);
  expect(leftOut).toEqual([]);
  expect(notices).toEqual([]);
  expect(problem.jobs).toHaveLength(demo.book.length);
  expect(() => validate(problem)).not.toThrow();
});
