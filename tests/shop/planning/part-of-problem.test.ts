import { describe, expect, test } from 'vitest';
import { check } from '../../../src/engine/check/check.ts';
import { validate } from '../../../src/engine/problem/validate.ts';
import { solve } from '../../../src/engine/solve.ts';
import { partOfProblem, spansOfJobs } from '../../../src/shop/planning/part-of-problem.ts';
import { formulate } from '../../../src/trade/formulate/formulate.ts';
import { ShopId } from '../../../src/trade/model/ids.ts';
import type { Instant } from '../../../src/trade/model/time.ts';
import { makeSeedBook } from '../../bench/books/seed-book.ts';

const now = Date.UTC(2026, 2, 2, 5) as Instant;
const { problem } = formulate(makeSeedBook({ shopId: ShopId.parse('part'), seed: 2, jobs: 6, copies: 1, now }));
const schedule = solve(problem, { seed: 1, workLimit: 0 }).schedule!;

describe('some jobs of a problem', () => {
  test('are a problem of their own, and what was planned for them obeys its rules', () => {
    const part = partOfProblem(
      problem,
      schedule,
      problem.jobs.map((_, job) => job % 2 === 1),
    );
    expect(validate(part.problem)).toEqual([]);
    expect(part.problem.jobs.map(({ name }) => name)).toEqual(
      problem.jobs.filter((_, job) => job % 2 === 1).map(({ name }) => name),
    );
    expect(check(part.problem, part.schedule)).toEqual([]);
  });

  test('break the rules that they break in the whole', () => {
    // Two cars at once in the place of the first.
    const [one, two] = [0, 1].map((job) => problem.jobs[job]!.stays.find((stay) => schedule.stays[stay] !== null)!);
    const stays = schedule.stays.map((stay, s) => (s === two ? { ...schedule.stays[one!]! } : stay));
    const clashing = { ...schedule, stays };
    const rules = (of: typeof problem, planned: typeof schedule) => check(of, planned).map(({ rule }) => rule);
    const part = partOfProblem(
      problem,
      clashing,
      problem.jobs.map((_, job) => job < 2),
    );
    const broken = rules(part.problem, part.schedule);
    expect(broken.length).toBeGreaterThan(0);
    expect(rules(problem, clashing)).toEqual(expect.arrayContaining(broken));
  });

  test('lie where their work and their stays lie', () => {
    for (const [job, { from, to }] of spansOfJobs(problem, schedule).entries()) {
      const own = schedule.operations.filter((each, o) => each !== null && problem.operations[o]!.job === job);
      expect(from).toBeLessThanOrEqual(Math.min(...own.map((each) => each!.start)));
      expect(to).toBeGreaterThanOrEqual(Math.max(...own.map((each) => each!.end)));
    }
  });
});
