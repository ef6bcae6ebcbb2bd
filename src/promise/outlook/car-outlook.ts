import type { Interval } from '../../engine/problem/problem.ts';
import type { Schedule } from '../../engine/problem/solution.ts';
import type { Book } from '../../trade/formulate/book.ts';
import type { Formulation } from '../../trade/formulate/formulation.ts';
import type { JobBlame } from '../blame/blame-tally.ts';
import { DEAL } from '../simulate/even-luck.ts';
import { earliestPromise, pickupHours } from '../simulate/promise-time.ts';
import { sampleQuantile, shareWithin } from '../simulate/sample-quantile.ts';
import { Simulation } from '../simulate/simulate.ts';
import { formulatedInput } from './formulated-input.ts';

/**
 * Every pickup is judged by as many runs of the day; the luck of all is the same, so that asking again finds the same. Of 176 runs a
 * probability of 90 % is known to 1.9 points (one standard error, measured), of 64 to 3.1, as of half as many again whose luck is not
 * spread evenly: enough for a car that stays for weeks among many others, while somebody is on the telephone.
 */
const SCENARIOS = 11 * DEAL;
const THRIFT = { steps: 80_000, least: 4 * DEAL } as const;
/** Of 32 runs a probability of 90 % is known to 4.1 points, of 16 to 6: enough to see where a car could wait for its owner. */
const ROUGHLY = { scenarios: 2 * DEAL, steps: 32_000, least: DEAL } as const;
const SEED = 1;

/** How sure the ready time of one car of a plan is. */
export interface CarOutlook {
  /** As likely to be ready earlier as later; minute of the plan's axis. */
  readonly medianReady: number;
  /** Probability, 0 to 1, that it is ready by a minute. */
  readyBy(minute: number): number;
  /** The least minute by which it is ready with a probability. */
  readyWith(probability: number): number;
  /** What to blame where it is not ready for its promise (without one: for its wanted or its planned pickup). */
  readonly blame: JobBlame;
  /** The earliest round minute in pickup hours by which it is ready with at least a probability; null beyond the hours known. */
  earliest(confidence: number): number | null;
}

/** Simulates a car with what it waits for; the rest of the shop keeps its plan. */
export function carOutlook(
  book: Pick<Book, 'shop' | 'learned' | 'norms'>,
  formulation: Formulation,
  schedule: Schedule,
  job: number,
): CarOutlook {
  return new CarForecast(book, formulation, schedule, job).whole;
}

/** A car's outlook that is looked into no further than somebody wants to know. */
export class CarForecast {
  /** Let go once it was carried through. */
  #simulation: Simulation | null;
  readonly #job: number;
  readonly #pickupOpen: readonly Interval[];
  #rough: CarOutlook | undefined;
  #whole: CarOutlook | undefined;

  constructor(
    book: Pick<Book, 'shop' | 'learned' | 'norms'>,
    formulation: Formulation,
    schedule: Schedule,
    job: number,
  ) {
    const { problem } = formulation;
    const terms = { asked: job, scenarios: SCENARIOS, thrift: THRIFT, seed: SEED };
    this.#simulation = new Simulation(formulatedInput(book, formulation, schedule, terms));
    this.#job = job;
    this.#pickupOpen = pickupHours(problem, job);
  }

  /** As the first few runs of the day have it: which pickup is worth planning for. */
  get rough(): CarOutlook {
    this.#rough ??= this.#whole ?? this.#after(this.#simulation!.affordable(ROUGHLY));
    return this.#rough;
  }

  /** As all of them have it: what may be promised. */
  get whole(): CarOutlook {
    this.#whole ??= this.#after(SCENARIOS);
    this.#simulation = null;
    return this.#whole;
  }

  #after(scenarios: number): CarOutlook {
    const { ready, blame } = this.#simulation!.after(scenarios).jobs[this.#job]!;
    return {
      medianReady: sampleQuantile(ready, 0.5),
      blame,
      readyWith: (probability) => sampleQuantile(ready, probability),
      readyBy: (minute) => shareWithin(ready, minute),
      earliest: (confidence) => earliestPromise(ready, confidence, this.#pickupOpen)?.at ?? null,
    };
  }
}
