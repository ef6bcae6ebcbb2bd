import type { Lag, Mode, Operation, Problem } from '../../../src/engine/problem/problem.ts';

/** A plain problem with nothing in it but resources, operations and lags. */
export function plainProblem(
  operations: readonly { readonly job?: number; readonly modes: readonly Mode[] }[],
  lags: readonly Lag[],
  capacities: readonly number[],
): Problem {
  return {
    horizon: operations.reduce((sum, { modes }) => sum + Math.max(...modes.map((mode) => mode.work)), 0),
    now: 0,
    progresses: [],
    resources: capacities.map((capacity, k) => ({ name: `r${k}`, capacity, kind: 'equipment' })),
    budgets: [],
    places: [],
    zones: [],
    airLabels: [],
    airExclusions: [],
    jobs: [{ name: 'all', stays: [], release: 0 }],
    operations: operations.map(
      ({ modes }, k): Operation => ({ name: `o${k}`, job: 0, modes, pausable: false, presence: 'always' }),
    ),
    stays: [],
    lags,
    branches: [],
    sameCrew: [],
    airSpans: [],
    stills: [],
    takenPlaces: [],
    takenResources: [],
    tiers: ['makespan'],
  };
}

export function endToStart(from: number, to: number, min = 0): Lag {
  return { from: { operation: from, edge: 'end' }, to: { operation: to, edge: 'start' }, min };
}
