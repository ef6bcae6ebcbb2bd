import { NEVER } from '../calendar/never.ts';

/**
 * Which gaps of places no stay need be tried in, since it failed in one that began no later and lasted as long, in a place that suits it as
 * well. Two failures are remembered of each kind of place: one that no longer gap would mend, one that a longer gap might.
 */
export class HopelessGaps {
  /** By suit of the place: from which beginning on every gap fails. */
  #always = new Int32Array(8);
  /** From which beginning on gaps fail that end by `#until`. */
  #from = new Int32Array(8);
  #until = new Int32Array(8);

  /** Forgets everything; suits are below `suits` from here on. */
  reset(suits: number): void {
    if (suits > this.#from.length) {
      this.#always = new Int32Array(2 * suits);
      this.#from = new Int32Array(2 * suits);
      this.#until = new Int32Array(2 * suits);
    }
    this.#always.fill(NEVER, 0, suits);
    this.#from.fill(NEVER, 0, suits);
    this.#until.fill(0, 0, suits);
  }

  /** The stay failed from `from` on in a gap that was of use until `until`; NEVER when no longer gap would do. */
  add(suit: number, from: number, until: number): void {
    if (until >= NEVER) this.#always[suit] = Math.min(this.#always[suit]!, from);
    else if (until >= this.#until[suit]!) {
      this.#from[suit] = until > this.#until[suit]! ? from : Math.min(from, this.#from[suit]!);
      this.#until[suit] = until;
    }
  }

  includes(suit: number, from: number, until: number): boolean {
    return from >= this.#always[suit]! || (from >= this.#from[suit]! && until <= this.#until[suit]!);
  }
}
