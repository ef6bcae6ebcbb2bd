import type { PlannedOperation } from '../trade/model/plan.ts';
import type { Instant } from '../trade/model/time.ts';
import { type Spread, spread } from '../trade/work-content/spread.ts';

/**
 * The chain of unfinished operations that leads to the instant a car is ready: backwards from the last to end, each
 * time the latest that ends before the one at hand starts. Work beside the chain is taken to have the time.
 */
export function chainTo(readyAt: Instant, operations: readonly PlannedOperation[], now: Instant): Spread[] {
  const open = operations
    .filter((each) => each.state !== 'finished' && each.end <= readyAt && each.end > each.start)
    .sort((a, b) => b.end - a.end || b.start - a.start);
  const chain: Spread[] = [];
  let until: number = readyAt;
  for (const each of open) {
    if (each.end > until) continue;
    chain.push(spread(each.kind, minutesLeft(each, now)));
    until = each.start;
  }
  return chain.reverse();
}

function minutesLeft(operation: PlannedOperation, now: Instant): number {
  let left = 0;
  for (const piece of operation.pieces) left += Math.max(0, piece.to - Math.max(piece.from, now));
  return Math.round(left / 60_000);
}
