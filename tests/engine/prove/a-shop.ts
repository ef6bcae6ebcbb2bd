import type { Lag, Mode, Operation, Problem } from '../../../src/engine/problem/problem.ts';
import { Dice } from './random-problem.ts';

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

/** Ten jobs on ten machines, too hard for a short budget. */
export function hardShop(): Problem {
  const dice = new Dice(5);
  const operations = Array.from({ length: 100 }, (_, k) => ({
    modes: [
      { work: 1 + dice.below(99), uses: [{ resource: (k + 3 * Math.floor(k / 10) + dice.below(5)) % 10, amount: 1 }] },
    ],
  }));
  const lags = operations.flatMap((_, k) => (k % 10 === 0 ? [] : [endToStart(k - 1, k)]));
  return plainProblem(operations, lags, new Array<number>(10).fill(1));
}
