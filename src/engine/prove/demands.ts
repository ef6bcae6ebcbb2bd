import type { Problem } from '../problem/problem.ts';
import { isFact } from './facts.ts';
import type { Logic } from './logic.ts';
import { edgeOf, type ModelledOperation, presentOf } from './modelled-operation.ts';

/**
 * Ensures that every time lag holds between operations that are both there, and that a maximum with a remedy either holds
 * or brings the whole remedy in. Returns, by operation, the Booleans of the lapsed lags that demand it.
 */
export function addLags(
  problem: Problem,
  operations: readonly ModelledOperation[],
  logic: Logic,
): ReadonlyMap<number, readonly number[]> {
  const demanding = new Map<number, number[]>();
  for (const { from, to, min, max, remedy } of problem.lags) {
    if (isFact(problem, from.operation) && isFact(problem, to.operation)) continue;
    const one = operations[from.operation]!;
    const other = operations[to.operation]!;
    const both = [one, other].flatMap(({ presence }) => (presence < 0 ? [] : [presence]));
    const first = edgeOf(one, from.edge);
    const second = edgeOf(other, to.edge);
    logic.lag(first, second, min, both);
    if (max === undefined) continue;
    if (remedy === undefined) {
      logic.lag(second, first, -max, both);
      continue;
    }
    const lapsed = logic.newBoolean();
    logic.lag(second, first, -max, [...both, lapsed ^ 1]);
    logic.lag(first, second, max + 1, [lapsed]);
    for (const present of both) logic.implies([lapsed], present);
    for (const operation of remedy) {
      logic.implies([lapsed], presentOf(logic, operations[operation]!));
      demanding.set(operation, [...(demanding.get(operation) ?? []), lapsed]);
    }
  }
  return demanding;
}

/**
 * Ensures that a plan holds the optional work that is demanded of it and no other: one bundle of every branch, the
 * remedies of lapsed maxima; moves are demanded by stays. What has happened need not be demanded.
 */
export function addDemands(
  problem: Problem,
  operations: readonly ModelledOperation[],
  logic: Logic,
  remedies: ReadonlyMap<number, readonly number[]>,
): void {
  const moves = new Set(problem.stays.flatMap(({ move }) => (move === undefined ? [] : [move])));
  const inBranch = new Set(problem.branches.flatMap(({ alternatives }) => alternatives.flat()));
  for (const [o, { presence }] of problem.operations.entries()) {
    if (presence !== 'optional' || isFact(problem, o) || moves.has(o) || inBranch.has(o)) continue;
    logic.implies([presentOf(logic, operations[o]!)], ...(remedies.get(o) ?? []));
  }
  for (const { alternatives } of problem.branches) {
    const chosen = alternatives.length === 1 ? [logic.yes] : alternatives.map(() => logic.newBoolean());
    logic.some(chosen);
    for (const [k, one] of chosen.entries()) {
      for (const other of chosen.slice(k + 1)) logic.implies([one, other]);
      for (const operation of alternatives[k]!) logic.implies([one], presentOf(logic, operations[operation]!));
    }
    for (const operation of new Set(alternatives.flat())) {
      if (isFact(problem, operation)) continue;
      const bundles = chosen.filter((_, k) => alternatives[k]!.includes(operation));
      logic.implies([presentOf(logic, operations[operation]!)], ...bundles);
    }
  }
}
