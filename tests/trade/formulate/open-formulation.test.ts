import { describe, expect, test } from 'vitest';
import { check } from '../../../src/engine/check/check.ts';
import { validate } from '../../../src/engine/problem/validate.ts';
import { openBook } from '../../../src/engine/quote.ts';
import { solve } from '../../../src/engine/solve.ts';
import { draftJob } from '../../../src/shop/booking/draft-job.ts';
import { formulate, formulateCandidate } from '../../../src/trade/formulate/formulate.ts';
import { openFormulation } from '../../../src/trade/formulate/open-formulation.ts';
import { readJobPlan, readPlan } from '../../../src/trade/formulate/read-plan.ts';
import { JobId, ShopId, TechnicianId } from '../../../src/trade/model/ids.ts';
import type { Job } from '../../../src/trade/model/job.ts';
import type { Instant } from '../../../src/trade/model/time.ts';
import { makeBookings } from '../../bench/books/bookings.ts';
import { makeSeedBook } from '../../bench/books/seed-book.ts';
import { seedShop } from '../../bench/books/seed-shop.ts';

/** A Monday, before the shop opens. */
const NOW = Date.UTC(2026, 2, 2, 5) as Instant;
const meta = { version: 1, madeAt: NOW, reason: 'test', objective: [], seed: 1, interrupted: false };

const shopId = ShopId.parse('open');
const book = makeSeedBook({ shopId, seed: 3, jobs: 8, copies: 1, now: NOW });
const cars = makeBookings(seedShop(1, shopId), 1, 12, 4, NOW).map((request, k) =>
  draftJob(request, JobId.parse(`car-${k}`), book),
);
const isNamed = (job: Job) => job.arranged?.dropOffBy != null || job.arranged?.pickupBy != null;

describe('a book that stays open', () => {
  test('writes one more car as the whole book with that car at its end does', () => {
    const open = openFormulation(book);
    let compared = 0;
    for (const car of cars) {
      const more = open.withJob(car);
      if (more === null || 'reason' in more) continue;
      const { formulation } = more;
      const whole = formulateCandidate(book, car).formulation;
      // A car that is told to stay longer than all others has days of its own in the whole book.
      if (whole.problem.horizon > formulation.problem.horizon) continue;
      expect(validate(formulation.problem)).toEqual([]);
      const { progresses: _, operations, ...rest } = formulation.problem;
      const { progresses: __, operations: wholeOperations, ...wholeRest } = whole.problem;
      expect(rest).toEqual(wholeRest);
      expect(formulation.jobs).toEqual(whole.jobs);
      // Progress functions of cars asked about before stay, so their numbers differ and what they say does not.
      const said = (problem: typeof whole.problem) =>
        problem.operations.map(({ modes, ...operation }) => ({
          ...operation,
          modes: modes.map(({ progress, ...mode }) => ({
            ...mode,
            progress: progress === undefined ? null : problem.progresses[progress],
          })),
        }));
      expect(operations).toHaveLength(wholeOperations.length);
      expect(said(formulation.problem)).toEqual(said(whole.problem));
      expect(formulation.jobIndex(car.id)).toBe(more.candidate);
      compared++;
    }
    expect(compared).toBeGreaterThan(3);
    expect(open.formulation.problem.jobs).toHaveLength(formulate(book).problem.jobs.length);
  });

  test('does not take a car whose hours lie beyond its axis, or for which somebody is arranged', () => {
    const open = openFormulation(book);
    const car = cars.find((each) => !isNamed(each))!;
    const far = (NOW + 200 * 86_400_000) as Instant;
    expect(open.withJob({ ...car, wantedPickupAt: far })).toBeNull();
    const by = TechnicianId.parse('somebody');
    expect(open.withJob({ ...car, arranged: { dropOffBy: by, pickupBy: null } })).toBeNull();
  });

  test('says why a car cannot be planned at all, and is as it was', () => {
    const open = openFormulation(book);
    const car = cars.find((each) => !isNamed(each))!;
    const huge = { ...car, vehicle: { ...car.vehicle, lengthMm: 19_000 } };
    expect(open.withJob(huge)).toMatchObject({ jobId: car.id });
    expect(open.withJob(car)).toMatchObject({ candidate: open.formulation.problem.jobs.length });
  });

  test('reads one car of a plan as it reads the plan', () => {
    const { schedule } = solve(formulate(book).problem, { seed: 1, workLimit: 0 });
    const open = openFormulation(book);
    const car = cars.find((each) => !isNamed(each))!;
    const more = open.withJob(car) as Exclude<ReturnType<typeof open.withJob>, null>;
    if ('reason' in more) throw new Error(more.reason);
    const [placement] = openBook(open.formulation.problem, schedule!).quote(more.formulation.problem);
    expect(check(more.formulation.problem, placement!.schedule)).toEqual([]);
    const whole = readPlan(more.formulation, placement!.schedule, meta);
    const own = readJobPlan(more.formulation, placement!.schedule, more.candidate);
    expect(own.operations).toEqual(whole.operations.filter((each) => each.jobId === car.id));
    expect(own.stays).toEqual(whole.stays.filter((each) => each.jobId === car.id));
    expect(own.job).toEqual(whole.jobs.find((each) => each.jobId === car.id));
  });
});
