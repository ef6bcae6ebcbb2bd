import { describe, expect, it } from 'vitest';
import { solve } from '../../../src/engine/solve.ts';
import { formulatedInput } from '../../../src/promise/outlook/formulated-input.ts';
import { compilePlan } from '../../../src/promise/simulate/compile-plan.ts';
import { simulate } from '../../../src/promise/simulate/simulate.ts';
import { commonRules, type SimulationInput } from '../../../src/promise/simulate/simulation-input.ts';
import { fromMoments } from '../../../src/promise/spread/log-normal.ts';
import { formulate } from '../../../src/trade/formulate/formulate.ts';
import { ShopId } from '../../../src/trade/model/ids.ts';
import type { Instant } from '../../../src/trade/model/time.ts';
import { makeBook } from '../../bench/books/book.ts';
import { makeSeedBook } from '../../bench/books/seed-book.ts';
import { certain, DAY, follows, hours, operation, planned, problemOf } from './small-problem.ts';

const ada = { progresses: [hours(10)], resources: [{ name: 'Ada', capacity: 100, kind: 'person' as const }] };
const byAda = (work: number) => ({ work, progress: 0, uses: [{ resource: 0, amount: 100 }] });
const DAY_END = 17 * 60;

/** How sure it is that a job is ready by a minute. */
function sureOf(input: SimulationInput, job: number, minute: number): number {
  const { ready } = simulate({ ...input, of: [job] }).jobs[job]!;
  return ready.filter((each) => each <= minute).length / ready.length;
}

describe('a promise of one car', () => {
  // Ada washes the first car until she goes home; from eight the next morning she polishes mine, which is promised for ten.
  const behindAWash = (washFactor: SimulationInput['factors'][number]) => ({
    problem: problemOf({
      ...ada,
      operations: [operation('wash', byAda(180), { pausable: true }), operation('polish', byAda(120), { job: 1 })],
    }),
    schedule: planned([
      [DAY_END - 180, DAY_END],
      [DAY + 480, DAY + 600],
    ]),
    factors: [washFactor, certain],
    scenarios: 400,
    seed: 1,
    rules: { starts: 'notBeforePlanned' as const },
  });

  it('is less sure when a car before it may be delayed over a night', () => {
    expect(sureOf(behindAWash(certain), 1, DAY + 600)).toBe(1);
    // A wash that takes longer than planned in half of all cases goes on the next morning, however long the night between is.
    const sure = sureOf(behindAWash({ logMean: 0, logDeviation: 0.2 }), 1, DAY + 600);
    expect(sure).toBeGreaterThan(0.4);
    expect(sure).toBeLessThan(0.6);
  });

  it('hears of a delay that began several nights before', () => {
    const days = [0, 1, 2, 3];
    const polishes = days.map((job) => operation('polish', byAda(480), { pausable: true, job }));
    const schedule = planned(days.map((day) => [day * DAY + 480, day * DAY + DAY_END]));
    const factors = days.map((day) => (day === 0 ? { logMean: Math.log(1.25), logDeviation: 0 } : certain));
    const input = { problem: problemOf({ ...ada, operations: polishes }), schedule, factors, scenarios: 3, seed: 1 };
    // Two hours over on the first day are two hours over on the fourth, and no work fits after five.
    expect([...simulate({ ...input, of: [3] }).jobs[3]!.ready]).toEqual(new Array(3).fill(4 * DAY + 480 + 120));
  });

  it('does not lose the hours at a machine to a car that comes after it', () => {
    const everyDay = [0, 1, 2, 3].map((day) => ({ from: day * DAY, to: (day + 1) * DAY }));
    const polish = (job: number) =>
      operation('polish', { work: 240, progress: 0, uses: [], budget: 0 }, { job, pausable: true });
    // Six hours of machine polishing a day are common practice. Mine is a day late; the car after it is not asked to come late.
    const input = {
      problem: problemOf({
        ...ada,
        operations: [operation('dry out', { work: DAY }), polish(0), polish(1)],
        lags: [follows(0, 1)],
        budgets: [{ name: 'polishing', limit: 360, windows: everyDay }],
      }),
      schedule: planned([
        [0, 480],
        [480, 720],
        [DAY + 480, DAY + 720],
      ]),
      factors: [certain, certain, certain],
      scenarios: 1,
      seed: 1,
    };
    expect(simulate({ ...input, of: [0] }).jobs[0]!.ready[0]).toBe(DAY + 720);
    expect(simulate(input).jobs[0]!.ready[0]).toBe(DAY + 720);
  });

  it('leaves out what comes only after it', () => {
    const { problem, schedule } = behindAWash(certain);
    const { carriedOut } = compilePlan(problem, schedule, commonRules, [0]);
    expect([...carriedOut!.slice(0, 2)]).toEqual([1, 0]);
  });
});

/** Carries out every car of a plan by itself, and all cars at once, under the same luck. */
function expectTheSame(input: SimulationInput): void {
  const all = simulate(input);
  for (const job of input.problem.jobs.keys()) {
    const { ready, pickup, promiseKept, blame } = simulate({ ...input, of: [job] }).jobs[job]!;
    const { ready: readyAmongAll, pickup: pickupAmongAll, ...among } = all.jobs[job]!;
    expect([job, ...ready]).toEqual([job, ...readyAmongAll]);
    expect([...pickup]).toEqual([...pickupAmongAll]);
    expect(promiseKept).toBe(among.promiseKept);
    expect(blame).toEqual(among.blame);
  }
}

describe('a car simulated by itself finds the very times, to the minute, that the whole book gives it', () => {
  it.each([1, 2, 3])('in invented book %i with windows, budgets, air and shared machines', (seed) => {
    const problem = makeBook({ seed, jobs: 14, bays: 4, people: 5 });
    const { schedule } = solve(problem, { seed: 1, workLimit: 0 });
    const factors = problem.operations.map(() => fromMoments(1.1, 0.35 ** 2));
    for (const queues of ['inPlannedOrder', 'fillingGaps'] as const) {
      const rules = { queues, dayLogDeviation: 0.1 };
      expectTheSame({ problem, schedule: schedule!, factors, rules, keptBy: 'ready', scenarios: 40, seed });
    }
  });

  it.each([4, 5])('in book %i of the demo’s recipes', (seed) => {
    const now = Date.UTC(2026, 2, 2, 5) as Instant;
    const book = makeSeedBook({ shopId: ShopId.parse('recipes'), seed, jobs: 14, copies: 1, now });
    const formulation = formulate(book);
    const { schedule } = solve(formulation.problem, { seed: 1, workLimit: 0 });
    expectTheSame(formulatedInput(book, formulation, schedule!, { scenarios: 40, seed }));
  });
});
