import { describe, expect, test } from 'vitest';
import { check } from '../../../src/engine/check/check.ts';
import { solve } from '../../../src/engine/solve.ts';
import { draftJob } from '../../../src/shop/booking/draft-job.ts';
import { openResidentBook } from '../../../src/shop/planning/open-resident-book.ts';
import type { ResidentBook } from '../../../src/shop/planning/resident-book.ts';
import type { Book } from '../../../src/trade/formulate/book.ts';
import { formulate } from '../../../src/trade/formulate/formulate.ts';
import { readPlan } from '../../../src/trade/formulate/read-plan.ts';
import { JobId, ShopId } from '../../../src/trade/model/ids.ts';
import type { Job } from '../../../src/trade/model/job.ts';
import type { Plan } from '../../../src/trade/model/plan.ts';
import type { Instant } from '../../../src/trade/model/time.ts';
import { makeBookings } from '../../bench/books/bookings.ts';
import { makeSeedBook } from '../../bench/books/seed-book.ts';
import { seedShop } from '../../bench/books/seed-shop.ts';

/** A Monday, before the shop opens. */
const NOW = Date.UTC(2026, 2, 2, 5) as Instant;
const shopId = ShopId.parse('resident');

function planned(book: Book): Book {
  const formulation = formulate(book);
  const { schedule } = solve(formulation.problem, { seed: 1, workLimit: 0 });
  const meta = { version: 1, madeAt: NOW, reason: 'test', objective: [], seed: 1, interrupted: false };
  const previousPlan = readPlan(formulation, schedule!, meta);
  // Each customer is told the drop-off of this plan.
  const told = new Map(previousPlan.jobs.map((each) => [each.jobId, each.dropOffAt]));
  return { ...book, previousPlan, jobs: book.jobs.map((job) => ({ ...job, dropOffAt: told.get(job.id) ?? null })) };
}

const standing = planned(makeSeedBook({ shopId, seed: 3, jobs: 8, copies: 1, now: NOW }));
const cars = makeBookings(seedShop(1, shopId), 1, 6, 4, NOW).map((request, k) =>
  draftJob(request, JobId.parse(`car-${k}`), standing),
);

/** Sells a car where it goes soonest; the plan as it would be published. */
function sell(resident: ResidentBook, car: Job): { job: Job; plan: Plan; accepted: boolean } | null {
  const found = resident.insert(car);
  const soonest = found !== null && 'length' in found ? found[0] : undefined;
  if (soonest === undefined) return null;
  const job = { ...car, dropOffAt: soonest.planned.dropOffAt };
  const kept = resident.insert(job);
  if (kept === null || !('length' in kept) || kept[0] === undefined) return null;
  const { plan, violations } = resident.wholePlan(kept[0], { reason: 'sold', seed: 1 });
  expect(violations).toEqual([]);
  const published = { ...plan, version: plan.version + 1 };
  return { job, plan: published, accepted: resident.accept(kept[0], published) };
}

describe('a book that takes in the cars it sells', () => {
  test('stands as it would if it were opened anew after each sale, and finds the same for the next car', () => {
    const resident = openResidentBook(standing, 1)!;
    let book = standing;
    let sold = 0;
    for (const car of cars) {
      const sale = sell(resident, car);
      if (sale === null) continue;
      expect(sale.accepted).toBe(true);
      book = { ...book, jobs: [...book.jobs, sale.job], previousPlan: sale.plan };
      const anew = openResidentBook(book, 1)!;
      expect(resident.schedule).toEqual(anew.schedule);
      const { progresses: _, operations, horizon: __, ...rest } = resident.formulation.problem;
      const { progresses: ___, operations: anewOperations, horizon: ____, ...anewRest } = anew.formulation.problem;
      expect(operations).toHaveLength(anewOperations.length);
      expect({ ...rest, places: [], resources: [], budgets: [] }).toEqual({
        ...anewRest,
        places: [],
        resources: [],
        budgets: [],
      });
      expect(check(resident.formulation.problem, resident.schedule)).toEqual([]);
      const next = cars.find(({ id }) => !book.jobs.some((job) => job.id === id));
      if (next !== undefined) {
        const slots = (of: ResidentBook) => {
          const found = of.insert(next, { alternatives: 2 });
          return found !== null && 'length' in found ? found.map((each) => each.operations) : found;
        };
        expect(slots(resident)).toEqual(slots(anew));
      }
      sold++;
    }
    expect(sold).toBeGreaterThan(2);
  });

  test('does not take in a car whose plan is not the next of its own', () => {
    const resident = openResidentBook(standing, 1)!;
    const found = resident.insert(cars[0]!);
    if (found === null || !('length' in found)) throw new Error('the car finds no place');
    const { plan } = resident.wholePlan(found[0]!, { reason: 'sold', seed: 1 });
    expect(resident.accept(found[0]!, { ...plan, version: plan.version + 2 })).toBe(false);
    expect(resident.book.jobs).toEqual(standing.jobs);
  });
});

describe('a car that is to wait for its owner', () => {
  test('is taken in where it can, and then can be promised that pickup', () => {
    const resident = openResidentBook(standing, 1)!;
    const wait = 20 * 60;
    let found = 0;
    for (const car of cars) {
      const ways = resident.insert(car, { waitsMinutes: wait });
      if (ways === null || !('length' in ways) || ways[0] === undefined) continue;
      const { planned, job } = ways[0];
      expect(planned.pickupAt - planned.readyAt).toBeGreaterThanOrEqual(wait * 60_000);
      const promise = { pickupAt: planned.pickupAt, givenAt: NOW, confidencePercent: 90 };
      const kept = resident.insert({ ...job, dropOffAt: planned.dropOffAt, promise });
      if (kept === null || !('length' in kept)) throw new Error('the car that can wait finds no place');
      expect(kept[0]!.planned.lateMinutes).toBe(0);
      expect(resident.checkAmongNeighbours(kept[0]!)).toEqual([]);
      found++;
    }
    expect(found).toBeGreaterThan(2);
  });
});

describe('a plan that the clock has overtaken', () => {
  test('stands as it was made while the floor has told nothing since, and no longer than half an hour', () => {
    const first = Math.min(...standing.previousPlan!.operations.map(({ start }) => start));
    const madeAt = (first - 5 * 60_000) as Instant;
    const made = { ...standing, previousPlan: { ...standing.previousPlan!, madeAt } };
    const opened = openResidentBook({ ...made, now: (first + 20 * 60_000) as Instant }, 1);
    expect(opened?.book.now).toBe(madeAt);
    expect(opened?.schedule).toEqual(openResidentBook({ ...made, now: madeAt }, 1)!.schedule);
    const later = openResidentBook({ ...made, now: (first + 40 * 60_000) as Instant }, 1);
    expect(later?.book.now).not.toBe(madeAt);
  });
});

describe('a plan that had to give something up', () => {
  const { previousPlan, jobs } = standing;
  const slotsOf = (book: Book) => {
    const found = openResidentBook(book, 1)?.insert(cars[0]!);
    return found != null && 'length' in found ? found.length : 0;
  };

  test('is open to quotes though a car had to be set aside', () => {
    const lost = jobs[0]!.id;
    const without = <T extends { readonly jobId: JobId }>(of: readonly T[]) => of.filter(({ jobId }) => jobId !== lost);
    const plan = {
      ...previousPlan!,
      jobs: without(previousPlan!.jobs),
      operations: without(previousPlan!.operations),
      stays: without(previousPlan!.stays),
    };
    const book = { ...standing, previousPlan: plan };
    expect(openResidentBook(book, 1)!.formulation.jobIndex(lost)).toBeUndefined();
    expect(slotsOf(book)).toBeGreaterThan(0);
  });

  test('is open to quotes though it does not keep an hour that a customer was told', () => {
    const [first, ...others] = jobs;
    const sooner = { ...first!, dropOffAt: (first!.dropOffAt! - 60_000) as Instant };
    const book = { ...standing, jobs: [sooner, ...others] };
    expect(openResidentBook(book, 1)!.schedule).toEqual(openResidentBook(standing, 1)!.schedule);
    expect(slotsOf(book)).toBeGreaterThan(0);
  });
});
