import { completion, workedPieces } from '../../../src/engine/check/worked-pieces.ts';
import type { Interval, Mode, Operation, Problem } from '../../../src/engine/problem/problem.ts';
import { modeSpan } from '../../../src/engine/prove/mode-span.ts';
import { blankProblem, work } from '../random/blank-problem.ts';
import type { SeededRandom } from '../random/seeded-random.ts';

/** A problem with two calendars and a capped budget, and some work on them, to make small random tasks of. */
export interface PausingWork {
  readonly problem: Problem;
  readonly operation: Operation;
  readonly mode: Mode;
}

export function pausingProblem(random: SeededRandom, horizon: number): Problem {
  const gap = random.whole(2, 4);
  return blankProblem({
    horizon,
    progresses: [
      { at: [0, gap, gap + random.whole(1, 2)], rate: [1, 0, 1] },
      { at: [1, 5, 6], rate: [1, 0, 1] },
    ],
    budgets: [
      {
        name: 'machine',
        windows: [
          { from: 0, to: 4 },
          { from: 4, to: 8 },
        ],
        limit: random.whole(1, 3),
      },
    ],
  });
}

export function pausingWork(problem: Problem, random: SeededRandom, budgeted: boolean): PausingWork {
  const mode: Mode = {
    work: random.whole(1, 3),
    progress: random.whole(0, 1),
    uses: [],
    ...(budgeted ? { budget: 0 } : {}),
  };
  const pausable = random.chance(0.8);
  return { problem, mode, operation: work('work', 0, mode.work, { modes: [mode], pausable }) };
}

/** The pieces of the work begun at a minute, by the checker's reading; undefined when it cannot be begun there. */
export function piecesFrom({ problem, operation, mode }: PausingWork, start: number): readonly Interval[] | undefined {
  const end = completion(problem, mode, start);
  if (end === undefined || end > problem.horizon) return undefined;
  const pieces = workedPieces(problem, mode, start, end);
  if (pieces[0]?.from !== start || (!operation.pausable && pieces.length > 1)) return undefined;
  return pieces;
}

export function spanOf({ problem, operation, mode }: PausingWork) {
  return modeSpan(problem, operation, mode);
}

export function isWorkedAt(pieces: readonly Interval[], minute: number): boolean {
  return pieces.some(({ from, to }) => from <= minute && minute < to);
}
