import { describe, expect, test } from 'vitest';
import { ShopBound } from '../../../src/engine/bound/bound.ts';
import { check } from '../../../src/engine/check/check.ts';
import { measure } from '../../../src/engine/check/objective.ts';
import { BY_SLACK, firstPlan } from '../../../src/engine/construct/first-plan.ts';
import { JobInserter } from '../../../src/engine/construct/insert-job.ts';
import { scheduleOf } from '../../../src/engine/construct/schedule-of.ts';
import { improve } from '../../../src/engine/improve/improve.ts';
import type { Mode, Place, Problem } from '../../../src/engine/problem/problem.ts';
import { blankProblem, endToStart, work } from '../random/blank-problem.ts';
import { randomShop } from '../random/random-shop.ts';
import { withStandingCosts } from '../random/standing-costs.ts';
import { bookOf, planned } from './small-shop.ts';

const place = (name: string, standingCost: number, given: Partial<Place> = {}): Place => ({
  name,
  turnaround: 0,
  blockedBy: [],
  standingCost,
  ...given,
});
const driver: Mode[] = [{ work: 10, uses: [{ resource: 0, amount: 100 }] }];
const people = [{ name: 'driver', capacity: 100, kind: 'person' as const }];
const move = { presence: 'optional' as const, modes: driver };

describe('a washed car whose next bay is taken', () => {
  const problem: Problem = blankProblem({
    resources: people,
    places: [place('wet bay', 4), place('dry bay', 4), place('yard', 0)],
    jobs: [{ name: 'car', stays: [0, 1, 2], release: 0 }],
    stays: [
      { job: 0, places: [0], optional: false },
      { job: 0, places: [2], optional: true, move: 2 },
      { job: 0, places: [1], optional: false, move: 3 },
    ],
    operations: [
      work('wash', 0, 60, { stay: 0 }),
      work('polish', 0, 60, { stay: 2 }),
      work('to the yard', 0, 10, move),
      work('in', 0, 10, move),
    ],
    takenPlaces: [{ place: 1, from: 0, to: 200 }],
    tiers: ['makespan', 'standing'],
  });

  test('leaves the wet bay for the yard, though nobody is known to need the bay', () => {
    const schedule = planned(problem);
    expect(schedule.stays[0]).toEqual({ place: 0, from: 0, to: 70 });
    expect(schedule.stays[1]).toMatchObject({ place: 2, from: 70 });
    expect(check(problem, schedule)).toEqual([]);
    expect(measure(problem, schedule)).toEqual(
      measure(problem, planned({ ...problem, tiers: ['makespan'] })).with(1, 4 * (70 + 60)),
    );
  });

  test('stays where it is when the wait is too short for two moves', () => {
    const short = { ...problem, takenPlaces: [{ place: 1, from: 0, to: 100 }] };
    expect(planned(short).stays[1]).toBeNull();
  });

  test('stays where it is when nothing is said of what standing costs', () => {
    expect(planned({ ...problem, tiers: ['makespan'] }).stays[1]).toBeNull();
  });
});

describe('a finished car that is fetched late', () => {
  const problem: Problem = blankProblem({
    resources: people,
    places: [place('lift', 4), place('yard', 0), place('roof', 1), place('wet bay', 4)],
    jobs: [{ name: 'car', stays: [0, 1], release: 0, handover: 1 }],
    stays: [
      { job: 0, places: [3], optional: false },
      { job: 0, places: [0, 2, 1], optional: false, move: 2 },
    ],
    operations: [
      work('wash', 0, 60, { stay: 0 }),
      work('handover', 0, 30, { stay: 1, release: 900 }),
      work('out', 0, 10, move),
    ],
    lags: [endToStart(0, 1)],
    // The wet bay is another's soon, so that the car cannot come just before it is fetched.
    takenPlaces: [{ place: 3, from: 100, to: 2000 }],
    tiers: ['makespan', 'standing'],
  });
  const withTaken = (...more: { place: number; from: number; to: number }[]): Problem => ({
    ...problem,
    takenPlaces: [...problem.takenPlaces, ...more],
  });

  test('waits in the place that costs least, not in the first', () => {
    expect(planned(problem).stays[1]).toEqual({ place: 1, from: 70, to: 930 });
  });

  test('waits in the next cheapest when that one is wanted meanwhile', () => {
    const schedule = planned(withTaken({ place: 1, from: 500, to: 600 }));
    expect(schedule.stays[1]).toMatchObject({ place: 2, from: 70 });
  });

  test('keeps to the only place that is free for all of the wait', () => {
    const taken = [1, 2].map((p) => ({ place: p, from: 500, to: 1000 }));
    expect(planned(withTaken(...taken)).stays[1]).toMatchObject({ place: 0 });
  });
});

test('a car comes to a bay when there is work for it there, and waits in the yard until then', () => {
  const problem: Problem = blankProblem({
    resources: [...people, { name: 'washer', capacity: 100, kind: 'person', open: [{ from: 480, to: 1000 }] }],
    places: [place('yard', 0), place('wet bay', 4)],
    jobs: [{ name: 'car', stays: [0, 1], release: 0, arrival: 0 }],
    stays: [
      { job: 0, places: [0], optional: false },
      { job: 0, places: [1], optional: false, move: 2 },
    ],
    operations: [
      work('intake', 0, 20, { stay: 0 }),
      work('wash', 0, 60, { stay: 1, modes: [{ work: 60, uses: [{ resource: 1, amount: 100 }] }] }),
      work('in', 0, 10, move),
    ],
    lags: [endToStart(0, 1)],
    tiers: ['makespan', 'standing'],
  });
  const schedule = planned(problem);
  expect(schedule.operations[1]).toMatchObject({ start: 480, end: 540 });
  expect(schedule.stays[1]).toEqual({ place: 1, from: 480, to: 540 });
  expect(check(problem, schedule)).toEqual([]);
});

test('random shops: parked cars obey every rule, and the book reckons what they cost as the checker does', () => {
  let parked = 0;
  for (let seed = 73_000; seed < 73_060; seed++) {
    const problem = withStandingCosts(randomShop(seed));
    const book = bookOf(problem);
    const inserter = new JobInserter(book);
    if (firstPlan(book, inserter, BY_SLACK, () => false).length > 0) continue;
    improve(book, inserter, {
      fromNothing: false,
      seed,
      workLimit: inserter.work + 3000,
      stop: () => false,
      onBetter: () => {},
      isSound: () => true,
      bound: new ShopBound(book.shop, book.jobs),
    });
    const objective = new Float64Array(problem.tiers.length);
    book.objective(objective);
    const schedule = scheduleOf(book);
    expect(check(problem, schedule), `seed ${seed}`).toEqual([]);
    expect([...objective], `seed ${seed}`).toEqual(measure(problem, schedule));
    if (schedule.stays.some((stay) => stay !== null && problem.places[stay.place]!.standingCost === 0)) parked++;
  }
  expect(parked).toBeGreaterThan(10);
});
