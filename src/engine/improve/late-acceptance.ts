import { compareTiers } from './tiers.ts';

/**
 * Late acceptance hill climbing (Burke and Bykov 2017, "The late acceptance hill-climbing heuristic"), on tiers: a candidate
 * is taken when it is no worse than the plan at hand, or than the plan that was at hand `length` steps ago. It has
 * no temperature, so tiers of different scale need no weights.
 */
export class LateAcceptance {
  readonly #history: Float64Array[];
  #step = 0;

  constructor(length: number, first: Float64Array) {
    this.#history = Array.from({ length }, () => first.slice());
  }

  /** The worst objective that would be taken now. */
  limit(current: Float64Array): Float64Array {
    const late = this.#history[this.#step % this.#history.length]!;
    return compareTiers(late, current) > 0 ? late : current;
  }

  /** Ends a step that left `current` at hand. */
  step(current: Float64Array): void {
    this.#history[this.#step % this.#history.length]!.set(current);
    this.#step++;
  }
}
