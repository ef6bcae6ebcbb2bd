import { expect } from 'vitest';
import { check } from '../../../src/engine/check/check.ts';
import type { Job, Mode, Operation, Place, Problem } from '../../../src/engine/problem/problem.ts';
import type { Schedule } from '../../../src/engine/problem/solution.ts';
import { prove } from '../../../src/engine/prove/prove.ts';
import { blankProblem, endToStart } from '../random/blank-problem.ts';

export const BAY: Place = { name: 'bay', turnaround: 0, blockedBy: [] };
export const YARD: Place = { name: 'yard', turnaround: 0, blockedBy: [] };

/** Work that needs nobody, always there. */
export function plainWork(name: string, job: number, minutes: number, given: Partial<Operation> = {}): Operation {
  const modes: readonly Mode[] = [{ work: minutes, uses: [] }];
  return { name, job, modes, pausable: false, presence: 'always', ...given };
}

/** Cars that each have one piece of work in one of the places, told in minutes; as early as can be is best. */
export function oneWorkEach(
  minutes: readonly number[],
  places: readonly Place[],
  given: Partial<Problem> = {},
): Problem {
  return blankProblem({
    horizon: 100,
    places,
    jobs: minutes.map((_, job): Job => ({ name: `car ${job}`, stays: [job], release: 0, arrival: job, handover: job })),
    stays: minutes.map((_, job) => ({ job, places: [...places.keys()], optional: false })),
    operations: minutes.map((each, job) => plainWork('wash', job, each, { stay: job })),
    tiers: ['makespan'],
    ...given,
  });
}

/** One car that is washed in place 0, moved by 1 minute of work, and polished in place 1. */
export function washedAndPolished(wash: number, polish: number, given: Partial<Problem> = {}): Problem {
  return blankProblem({
    horizon: 100,
    places: [BAY, YARD],
    jobs: [{ name: 'car', stays: [0, 1], release: 0, arrival: 0, handover: 1 }],
    stays: [
      { job: 0, places: [0], optional: false },
      { job: 0, places: [1], optional: false, move: 2 },
    ],
    operations: [
      plainWork('wash', 0, wash, { stay: 0 }),
      plainWork('polish', 0, polish, { stay: 1 }),
      plainWork('move', 0, 1, { presence: 'optional' }),
    ],
    lags: [endToStart(0, 1)],
    tiers: ['makespan'],
    ...given,
  });
}

/** The plan proved best, which the checker has nothing against; null when there is proved to be none. */
export function bestPlan(problem: Problem): Schedule | null {
  const { status, schedule } = prove(problem, { seed: 1, workLimit: 20_000_000 });
  expect(['optimal', 'infeasible']).toContain(status);
  if (schedule !== null) expect(check(problem, schedule)).toEqual([]);
  return schedule;
}

/** The last end in the plan proved best. */
export function lastEnd(problem: Problem): number | null {
  const plan = bestPlan(problem);
  return plan && Math.max(...plan.operations.map((planned) => planned?.end ?? 0));
}
