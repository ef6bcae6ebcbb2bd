import { NEVER } from '../calendar/never.ts';
import type { OperationModel } from './job-model.ts';

/** By operation, fewest elapsed minutes from its start and from its end to some later instant; NO_TAIL where nothing is known. */
export interface Tails {
  readonly fromStart: Int32Array;
  readonly fromEnd: Int32Array;
}

export const NO_TAIL = -NEVER;

/**
 * The tails to one edge of operation `target`, along the minimum lags and the order of the stays of work that is always there:
 * what is done in a stay ends before anything begins in a later one. Operations stand in planning order. With `target` -1
 * nothing is known.
 */
export function tailsTo(operations: readonly OperationModel[], target: number, edge: 'start' | 'end'): Tails {
  const size = operations.length;
  const fromStart = new Int32Array(size).fill(NO_TAIL);
  const fromEnd = new Int32Array(size).fill(NO_TAIL);
  /** The longest tail of what starts in any later stay. */
  let later = NO_TAIL;
  let ofStage = NO_TAIL;
  for (let i = size - 1; i >= 0; i--) {
    const operation = operations[i]!;
    if (i + 1 < size && operations[i + 1]!.stage !== operation.stage) {
      later = Math.max(later, ofStage);
      ofStage = NO_TAIL;
    }
    if (i === target) {
      if (edge === 'start') fromStart[i] = 0;
      else fromEnd[i] = 0;
    }
    if (operation.inStay) fromEnd[i] = Math.max(fromEnd[i]!, later);
    for (const lag of operation.lags) {
      if (lag.from !== i || lag.to <= i || operations[lag.to]!.optional) continue;
      const beyond = (lag.toEnd ? fromEnd : fromStart)[lag.to]!;
      if (beyond === NO_TAIL) continue;
      const at = lag.fromEnd ? fromEnd : fromStart;
      at[i] = Math.max(at[i]!, lag.min + beyond);
    }
    if (fromEnd[i]! > NO_TAIL && operation.fixing !== 'pinned') {
      fromStart[i] = Math.max(fromStart[i]!, Math.min(NEVER, fromEnd[i]! + operation.leastMinutes));
    }
    if (operation.inStay && !operation.optional) ofStage = Math.max(ofStage, fromStart[i]!);
  }
  return { fromStart, fromEnd };
}

/**
 * By operation of a stage, [from, to) of the planning order, fewest elapsed minutes from its end to the end of whatever is always
 * there in the same stay and must come after it by minimum lags.
 */
export function tailsInStage(operations: readonly OperationModel[], from: number, to: number): Int32Array {
  const tails = new Int32Array(to - from);
  for (let i = to - 1; i >= from; i--) {
    let tail = 0;
    for (const lag of operations[i]!.lags) {
      if (lag.from !== i || !lag.fromEnd || lag.to <= i || lag.to >= to) continue;
      const after = operations[lag.to]!;
      if (after.optional || !after.inStay || after.fixing !== 'open') continue;
      tail = Math.max(tail, lag.min + tails[lag.to - from]! + (lag.toEnd ? 0 : after.leastMinutes));
    }
    tails[i - from] = Math.min(NEVER, tail);
  }
  return tails;
}
