import type { Problem } from '../problem/problem.ts';
import type { Status } from '../problem/solution.ts';

/** Whether a problem has a plan; `unknown` when neither a plan nor a proof was found. */
export type TrySolve = (problem: Problem) => Status;

/** A limited number of attempts at solving, so that an explanation comes in bounded time and a seed repeats it. */
export class Attempts {
  private readonly trySolve: TrySolve;
  private left: number;
  private readonly cancelled: () => boolean;

  constructor(trySolve: TrySolve, limit: number, cancelled: () => boolean = () => false) {
    this.trySolve = trySolve;
    this.left = limit;
    this.cancelled = cancelled;
  }

  /** Whether another attempt would find nothing out: none is left, or whoever asked has waited long enough. */
  get spent(): boolean {
    return this.left === 0 || this.cancelled();
  }

  /** Undefined when no attempt is left. */
  solve(problem: Problem): Status | undefined {
    if (this.spent) return undefined;
    this.left--;
    return this.trySolve(problem);
  }

  hasPlan(problem: Problem): boolean {
    const outcome = this.solve(problem);
    return outcome === 'feasible' || outcome === 'optimal';
  }
}
