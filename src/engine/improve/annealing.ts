import type { Random } from './random.ts';

/** Steps a job of the book without a better plan after which the search is heated, and steps a job until it is cold again. */
const QUIET_STEPS = 10;
const COOLING_STEPS = 100;
/** What a step may cost at the beginning, on the average: a car that stays half a night longer. */
const HOT_MINUTES = 500;

/**
 * Simulated annealing (Kirkpatrick, Gelatt and Vecchi 1983, "Optimization by simulated annealing") of one tier, in rounds: heated
 * once nothing better has been found for long, then cooled in even steps. Tiers before it never get worse.
 */
export class Annealing {
  readonly #tier: number;
  readonly #jobs: number;
  readonly #random: Random;
  readonly #limit: Float64Array;
  #stepsLeft = 0;

  /** @param tier of `tiers` many; -1 when there is nothing that may get worse, and it stays cold. */
  constructor(tier: number, tiers: number, jobs: number, random: Random) {
    this.#tier = tier;
    this.#jobs = jobs;
    this.#random = random;
    this.#limit = new Float64Array(tiers);
  }

  get isCold(): boolean {
    return this.#stepsLeft === 0;
  }

  /** One step colder, or heated. True when a round has just come to its end. `sinceBetter`: steps since a better plan was found. */
  step(sinceBetter: number): boolean {
    if (this.#stepsLeft > 0) return --this.#stepsLeft === 0;
    if (this.#tier >= 0 && sinceBetter >= QUIET_STEPS * this.#jobs) this.#stepsLeft = COOLING_STEPS * this.#jobs;
    return false;
  }

  /** The worst objective that would be taken after `current`, by a draw. The next draw overwrites it. */
  limit(current: Float64Array): Float64Array {
    const heat = this.#stepsLeft / (COOLING_STEPS * this.#jobs);
    this.#limit.set(current);
    // The draw is never 0, whose logarithm is none.
    this.#limit[this.#tier]! -= HOT_MINUTES * heat * Math.log(1 - this.#random.unit());
    this.#limit.fill(Number.POSITIVE_INFINITY, this.#tier + 1);
    return this.#limit;
  }
}
