import type { OperationModel } from './job-model.ts';

/** The earliest start and end of each operation by its own job's facts and minimum lags alone, whoever is free. */
export interface Soonest {
  readonly start: Int32Array;
  readonly end: Int32Array;
}

/** Operations in planning order; absent ones count as done at `now`. */
export function soonest(operations: readonly OperationModel[], now: number): Soonest {
  const start = new Int32Array(operations.length);
  const end = new Int32Array(operations.length);
  for (const [i, operation] of operations.entries()) {
    if (operation.fixing === 'pinned') {
      start[i] = operation.fixedStart;
      end[i] = operation.fixedEnd;
      continue;
    }
    let earliest = now;
    for (const lag of operation.lags) {
      if (lag.to !== i || lag.from >= i || operations[lag.from]!.optional) continue;
      const edge = (lag.fromEnd ? end[lag.from]! : start[lag.from]!) + lag.min;
      earliest = Math.max(earliest, lag.toEnd ? edge - operation.leastMinutes : edge);
    }
    start[i] = earliest;
    end[i] = earliest + (operation.optional ? 0 : operation.leastMinutes);
  }
  return { start, end };
}
