const PROBE_CONFLICTS = 100;
const STRIDE_CONFLICTS = 300;

/**
 * How far below the best objective the next search aims. First it halves the way to the lower bound, which closes easy
 * problems from either side; once that is too hard it aims one below, twice as far after each success and half as far
 * after each miss.
 */
export class Stride {
  private halving = true;
  private step = 1;

  /** The greatest objective that the next search accepts. */
  goal(bound: number, best: number): number {
    if (this.halving) return (bound + best - 1) >> 1;
    return Math.max(bound, best - this.step);
  }

  /** Conflicts that an aim below the next value is worth. */
  get conflicts(): number {
    return this.halving ? PROBE_CONFLICTS : STRIDE_CONFLICTS;
  }

  reached(): void {
    if (!this.halving) this.step = Math.min(2 * this.step, 1 << 20);
  }

  missed(): void {
    this.halving = false;
    this.step = Math.max(1, this.step >> 1);
  }
}
