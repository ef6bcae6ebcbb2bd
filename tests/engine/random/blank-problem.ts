import type { Edge, Lag, Operation, Problem } from '../../../src/engine/problem/problem.ts';

/** A problem with nothing in it but what is given. */
export function blankProblem(given: Partial<Problem>): Problem {
  return {
    horizon: 10_000,
    now: 0,
    progresses: [],
    resources: [],
    budgets: [],
    places: [],
    zones: [],
    airLabels: [],
    airExclusions: [],
    jobs: [],
    operations: [],
    stays: [],
    lags: [],
    branches: [],
    sameCrew: [],
    airSpans: [],
    stills: [],
    takenPlaces: [],
    takenResources: [],
    tiers: ['makespan'],
    ...given,
  };
}

/** Unpausable work that is always present and runs at one unit a minute, except as given. */
export function work(name: string, job: number, minutes: number, given: Partial<Operation> = {}): Operation {
  return { name, job, modes: [{ work: minutes, uses: [] }], pausable: false, presence: 'always', ...given };
}

/** `after` starts at least `min`, and at most `max`, minutes after `before` ends. */
export function endToStart(before: number, after: number, min = 0, max?: number): Lag {
  return { from: at(before, 'end'), to: at(after, 'start'), min, ...(max === undefined ? {} : { max }) };
}

export function at(operation: number, edge: Edge): { operation: number; edge: Edge } {
  return { operation, edge };
}
