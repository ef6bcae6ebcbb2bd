import type { PlannedOperation, TimelineStay } from '../../api/replies.ts';
import type { Liftable } from './carry.ts';

/** What of a stay can be taken elsewhere: its work that has not begun, or the car's next work when none is left here. */
export function liftableStay(stay: TimelineStay, column: string, plate: string, now: number): Liftable {
  const next = stay.operations
    .filter((each) => each.kind !== 'move' && (each.state === 'planned' || each.state === 'paused'))
    .sort((a, b) => Date.parse(a.start) - Date.parse(b.start))[0];
  const at = next === undefined ? Math.max(now, Date.parse(stay.from)) : Date.parse(next.start);
  const until = Math.max(at + 30 * 60_000, Date.parse(stay.to));
  return { jobId: stay.jobId, operation: next?.operation ?? null, column, at, until, plate };
}

/** An operation in somebody's day; null when it has begun or is a move, which follows from where the work is done. */
export function liftableWork(operation: PlannedOperation, column: string, plate: string): Liftable | null {
  if (operation.kind === 'move' || (operation.state !== 'planned' && operation.state !== 'paused')) return null;
  const { jobId, operation: key, start, end } = operation;
  return { jobId, operation: key, column, at: Date.parse(start), until: Date.parse(end), plate };
}
