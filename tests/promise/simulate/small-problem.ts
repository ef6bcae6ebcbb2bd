import type { Job, Lag, Mode, Operation, Problem, Progress } from '../../../src/engine/problem/problem.ts';
import type { PlannedOperation, Schedule } from '../../../src/engine/problem/solution.ts';
import type { WorkFactor } from '../../../src/promise/simulate/simulation-input.ts';

export const DAY = 1440;
export const certain: WorkFactor = { logMean: 0, logDeviation: 0 };

/** One person's hours: 8 to 12 and 13 to 17 on every day, from midnight of day 0. */
export function hours(days: number): Progress {
  const all = Array.from({ length: days }, (_, day) => day * DAY);
  return {
    at: all.flatMap((day) => [day + 480, day + 720, day + 780, day + 1020]),
    rate: all.flatMap(() => [1, 0, 1, 0]),
  };
}

/** A problem of operations, without cars, unless more is said. */
export function problemOf(parts: Partial<Problem> & { readonly operations: readonly Operation[] }): Problem {
  const jobs = Math.max(...parts.operations.map(({ job }) => job)) + 1;
  return {
    horizon: 1_000_000_000,
    now: 0,
    progresses: [],
    resources: [],
    budgets: [],
    places: [],
    zones: [],
    airLabels: [],
    airExclusions: [],
    jobs: Array.from({ length: jobs }, (_, j): Job => ({ name: `job ${j + 1}`, stays: [], release: 0 })),
    stays: [],
    lags: [],
    branches: [],
    sameCrew: [],
    airSpans: [],
    stills: [],
    takenPlaces: [],
    takenResources: [],
    tiers: ['makespan'],
    ...parts,
  };
}

export function operation(
  name: string,
  mode: Partial<Mode> & { work: number },
  parts: Partial<Operation> = {},
): Operation {
  return { name, job: 0, modes: [{ uses: [], ...mode }], pausable: false, presence: 'always', ...parts };
}

export function follows(from: number, to: number, more: Partial<Lag> = {}): Lag {
  return { from: { operation: from, edge: 'end' }, to: { operation: to, edge: 'start' }, min: 0, ...more };
}

/** A schedule without stays, from starts and ends; null is absent. */
export function planned(times: readonly (readonly [number, number] | null)[]): Schedule {
  return {
    operations: times.map((time): PlannedOperation | null =>
      time === null ? null : { start: time[0], end: time[1], mode: 0 },
    ),
    stays: [],
  };
}

export function meanAndVariance(values: ArrayLike<number>): { mean: number; variance: number } {
  const n = values.length;
  let mean = 0;
  for (let k = 0; k < n; k++) mean += values[k]! / n;
  let variance = 0;
  for (let k = 0; k < n; k++) variance += (values[k]! - mean) ** 2 / (n - 1);
  return { mean, variance };
}
