import { ALWAYS } from '../constraints/task.ts';
import type { TimeLags } from '../constraints/time-lag.ts';
import type { Solver } from '../learn/solver.ts';
import type { Problem } from '../problem/problem.ts';
import { isFact } from './facts.ts';
import type { Order } from './model.ts';
import { type ModelledOperation, mayBe } from './modelled-operation.ts';
import { overlapAtWork } from './pauses.ts';
import type { Precedence } from './precedence.ts';

/** Whether two modes together ask for more of some resource than there is, whenever they overlap. */
function clash(problem: Problem, a: number, modeOfA: number, b: number, modeOfB: number): boolean {
  const one = problem.operations[a]!.modes[modeOfA]!;
  const other = problem.operations[b]!.modes[modeOfB]!;
  if (one.work === 0 || other.work === 0) return false;
  const tooMuch = one.uses.some((use) => {
    const same = other.uses.find((u) => u.resource === use.resource && u.amount > 0);
    return use.amount > 0 && same !== undefined && use.amount + same.amount > problem.resources[use.resource]!.capacity;
  });
  return tooMuch && overlapAtWork(problem, problem.operations[a]!, one, problem.operations[b]!, other);
}

/**
 * For every two operations that may ask for more of a resource than there is, and whose order the lags leave open: a
 * Boolean for their order, and the lags it brings in the modes that clash.
 */
export function addOrders(
  problem: Problem,
  operations: readonly ModelledOperation[],
  solver: Solver,
  lags: TimeLags,
  precedence: Precedence,
): Order[] {
  const orders: Order[] = [];
  const { bounds } = solver;
  for (let a = 0; a < operations.length; a++) {
    for (let b = a + 1; b < operations.length; b++) {
      if (isFact(problem, a) || isFact(problem, b)) continue;
      if (precedence.ordered(a, b) || precedence.ordered(b, a)) continue;
      const pairs: [number, number][] = [];
      for (let m = 0; m < operations[a]!.modes.length; m++) {
        for (let k = 0; k < operations[b]!.modes.length; k++) {
          const possible = mayBe(bounds, operations[a]!.modes[m]!) && mayBe(bounds, operations[b]!.modes[k]!);
          if (possible && clash(problem, a, m, b, k)) pairs.push([m, k]);
        }
      }
      if (pairs.length === 0) continue;
      const first = bounds.newBoolean();
      orders.push({ a, b, first });
      addOneWay(operations[a]!, operations[b]!, first, pairs, lags);
      const turned = pairs.map(([m, k]): [number, number] => [k, m]);
      addOneWay(operations[b]!, operations[a]!, first ^ 1, turned, lags);
    }
  }
  return orders;
}

/** Under `order`, and the two modes of each pair, `before` ends by the start of `after`. */
function addOneWay(
  before: ModelledOperation,
  after: ModelledOperation,
  order: number,
  pairs: readonly (readonly [number, number])[],
  lags: TimeLags,
): void {
  for (const [m, k] of pairs) {
    const mode = before.modes[m]!;
    const conditions = [order];
    if (mode.presence !== ALWAYS) conditions.push(mode.presence);
    if (after.modes[k]!.presence !== ALWAYS) conditions.push(after.modes[k]!.presence);
    if (mode.span.minutes !== undefined) lags.add(before.start, after.start, mode.span.minutes, conditions);
    else lags.add(before.end, after.start, before.endOffset, conditions);
  }
}
