import type { PlannedOperation } from '../../api/replies.ts';

const REST = /\.rest$/;

/**
 * Interrupted work is two operations of the plan, the part that is done and the rest; on screen it is one, from its first
 * minute to its last, in its pieces.
 */
export function joinRests<Operation extends PlannedOperation>(operations: readonly Operation[]): Operation[] {
  const nameOf = ({ jobId, operation }: Operation) => `${jobId} ${operation.replace(REST, '')}`;
  const rests = new Map(operations.filter((each) => REST.test(each.operation)).map((each) => [nameOf(each), each]));
  return operations.flatMap((each) => {
    if (REST.test(each.operation)) {
      const isAlone = !operations.some((other) => !REST.test(other.operation) && nameOf(other) === nameOf(each));
      return isAlone ? [each] : [];
    }
    const rest = rests.get(nameOf(each));
    if (rest === undefined) return [each];
    const { end, state, people, sharePercent, windowClosesAt } = rest;
    const pieces = [...each.pieces, ...rest.pieces];
    return [{ ...each, end, state, people, sharePercent, windowClosesAt, pieces }];
  });
}
