import type { Solver } from './solver.ts';

/** Chooses a decision when no literal has been active: writes (half, bound), or says that all is decided. */
export interface Brancher {
  half: number;
  bound: number;
  choose(): boolean;
}

export type Outcome =
  /** Every variable of the brancher is decided; the bounds hold the solution. */
  | 'solution'
  /** No solution. */
  | 'none'
  /** No solution under the assumptions. */
  | 'none-assumed'
  | 'limit';

export interface SearchLimits {
  readonly conflicts: number;
  readonly work: number;
  /** True when the search must stop now. */
  readonly stop: () => boolean;
}

/** Conflicts until the shortest restart. */
const RESTART_UNIT = 128;

/**
 * Search by learning: decisions from activity, else from the brancher; Luby restarts; clause deletion between them.
 * Every literal's value is first tried as in the best solution known (Vion, Demirović: "solution-based phase saving",
 * 2015-2020); before there is one, the smaller value of a variable is tried.
 */
export class Search {
  /** By half: value of the best solution, read when `guided`. */
  guide: Int32Array = new Int32Array(0);
  guided = false;
  private mostLearnt = 4000;
  private readonly solver: Solver;
  private readonly brancher: Brancher;
  private restarts = 0;

  private readonly restartUnit: number;

  constructor(solver: Solver, brancher: Brancher, restartUnit = RESTART_UNIT) {
    this.solver = solver;
    this.brancher = brancher;
    this.restartUnit = restartUnit;
  }

  /** Keeps the present bounds as the solution to follow. */
  follow(): void {
    const { bounds } = this.solver;
    if (this.guide.length < bounds.halves) this.guide = new Int32Array(bounds.halves);
    this.guide.set(bounds.lower.subarray(0, bounds.halves));
    this.guided = true;
  }

  /** Assumptions are literals (half, bound, half, bound, ...), decided first. Leaves the trail as it stands. */
  run(limits: SearchLimits, assumptions: readonly number[] = [], active = true): Outcome {
    const { solver } = this;
    const { bounds, activity } = solver;
    solver.seal();
    solver.backtrackTo(0);
    const lastConflict = solver.conflicts + limits.conflicts;
    let untilRestart = this.restartUnit * luby(++this.restarts);
    const assumed = assumptions.length >> 1;
    let decisions = 0;
    for (;;) {
      if (solver.failed) return 'none';
      if (!solver.propagate()) {
        if (!solver.learn()) return 'none';
        untilRestart--;
        if (solver.conflicts >= lastConflict || solver.work >= limits.work) return 'limit';
        if ((solver.conflicts & 31) === 0 && limits.stop()) return 'limit';
        continue;
      }
      if (untilRestart <= 0) {
        solver.backtrackTo(0);
        untilRestart = this.restartUnit * luby(++this.restarts);
        if (limits.stop()) return 'limit';
        if (!solver.propagate()) {
          solver.failed = true;
          return 'none';
        }
      }
      if (bounds.level === 0) {
        solver.commitRoot();
        if (solver.clauses.learntCount > this.mostLearnt) {
          solver.clauses.reduce();
          this.mostLearnt += 300;
        }
        activity.trim(200_000);
      }
      if (bounds.level < assumed) {
        const h = assumptions[2 * bounds.level]!;
        const b = assumptions[2 * bounds.level + 1]!;
        if (bounds.lower[h ^ 1]! >= 1 - b) return 'none-assumed';
        solver.decide(h, b);
        continue;
      }
      if ((++decisions & 255) === 0 && (solver.work >= limits.work || limits.stop())) return 'limit';
      const literal = active ? activity.take() : -1;
      if (literal >= 0) {
        const h = activity.half[literal]!;
        const b = activity.bound[literal]!;
        if (this.guided && this.guide[h]! >= b) solver.decide(h, b);
        else solver.decide(h ^ 1, 1 - b);
        continue;
      }
      if (!this.brancher.choose()) return 'solution';
      solver.decide(this.brancher.half, this.brancher.bound);
    }
  }
}

/** The Luby sequence 1 1 2 1 1 2 4 ... (Luby, Sinclair and Zuckerman 1993), counted from 1. */
export function luby(n: number): number {
  let k = n;
  for (;;) {
    let power = 1;
    while (power * 2 <= k) power *= 2;
    if (k === power * 2 - 1) return power;
    k -= power - 1;
  }
}
