const PROBE_CONFLICTS = 100;
const STRIDE_CONFLICTS = 300;

/** How far below the best objective the next search aims, and what that is worth. */
export interface Aim {
  /** The greatest objective that the next search accepts. */
  goal(bound: number, best: number): number;
  /** Conflicts that an aim below the next value is worth. */
  readonly conflicts: number;
  reached(): void;
  missed(): void;
}

/**
 * How far below the best objective the next search aims. First it halves the way to the lower bound, which closes easy
 * problems from either side; once that is too hard it aims one below, twice as far after each success and half as far
 * after each miss.
 */
export class Stride implements Aim {
  private halving = true;
  private step = 1;

  goal(bound: number, best: number): number {
    if (this.halving) return (bound + best - 1) >> 1;
    return Math.max(bound, best - this.step);
  }

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

/** Aims at the lower bound itself, which a refutation raises by one ("destructive lower bounds", Klein and Scholl 1999). */
export class Climb implements Aim {
  conflicts = STRIDE_CONFLICTS;

  goal(bound: number): number {
    return bound;
  }

  reached(): void {}

  missed(): void {
    this.conflicts = Math.min(2 * this.conflicts, 1 << 20);
  }
}
