import { solve } from '../../../src/engine/solve.ts';
import { formulatedInput } from '../../../src/promise/outlook/formulated-input.ts';
import { simulate } from '../../../src/promise/simulate/simulate.ts';
import type { SimulationInput } from '../../../src/promise/simulate/simulation-input.ts';
import { spansOfJobs } from '../../../src/shop/planning/part-of-problem.ts';
import { amongNeighbours } from '../../../src/shop/promises/part-of-formulation.ts';
import { formulate } from '../../../src/trade/formulate/formulate.ts';
import { ShopId } from '../../../src/trade/model/ids.ts';
import type { Instant } from '../../../src/trade/model/time.ts';
import { makeSeedBook } from '../books/seed-book.ts';
import type { Clock } from '../figures/clock.ts';

/** A Monday, before the shop opens. */
const NOW = Date.UTC(2026, 2, 2, 5) as Instant;
/** As the server asks. */
const SCENARIOS = 256;
const SEED = 1;

export interface OneCarBook {
  readonly jobs: number;
  /** Times the seed's shop of 4 bays and 5 people. */
  readonly copies: number;
  readonly seed: number;
  /** Every n-th car is asked. */
  readonly everyNth: number;
}

/** One car asked as the server asks, and with all its neighbours carried out under the same luck. */
export interface OneCar {
  readonly neighbours: number;
  /** Share of the scenarios in which the two do not agree on when it is ready: none, unless something that has a say was left out. */
  readonly differ: number;
  readonly aloneMs: number;
  readonly neighboursMs: number;
}

/** Asks cars of one book that was planned from nothing. */
export function oneCarAtATime({ jobs, copies, seed, everyNth }: OneCarBook, clock: Clock): OneCar[] {
  const book = makeSeedBook({ shopId: ShopId.parse('bench'), seed, jobs, copies, now: NOW });
  const formulation = formulate(book);
  const { schedule } = solve(formulation.problem, { seed, workLimit: 0 });
  if (schedule === null) throw new Error('the book has no plan');
  const spans = spansOfJobs(formulation.problem, schedule);
  return formulation.jobs.flatMap((_, j): OneCar[] => {
    if (j % everyNth !== 0) return [];
    const part = amongNeighbours(formulation, schedule, j, spans);
    if (part === null) return [];
    const terms = { asked: part.job, scenarios: SCENARIOS, seed: SEED };
    const { of, ...everything } = formulatedInput(book, part.formulation, part.schedule, terms);
    const alone = timed({ ...everything, of: of! }, part.job, clock);
    const among = timed(everything, part.job, clock);
    return [
      {
        neighbours: part.formulation.jobs.length - 1,
        differ: alone.ready.filter((minute, s) => minute !== among.ready[s]).length / SCENARIOS,
        aloneMs: alone.ms,
        neighboursMs: among.ms,
      },
    ];
  });
}

function timed(input: SimulationInput, job: number, clock: Clock): { readonly ready: Int32Array; readonly ms: number } {
  const began = clock();
  const { ready } = simulate(input).jobs[job]!;
  return { ready, ms: clock() - began };
}
