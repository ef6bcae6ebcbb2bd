import type { PlannedOperation } from '../../api/replies.ts';

export type Doing = 'work' | 'still' | 'wait' | 'move';

const standing = new Set(['dryOut', 'solventFlash', 'layerWait', 'cure', 'lampCure']);

/** What the eye should see of an operation: hands at work, a window running, a wait, a move. */
export function doingOf(operation: Pick<PlannedOperation, 'kind'>): Doing {
  if (operation.kind === 'move') return 'move';
  if (operation.kind === 'customerAnswer') return 'wait';
  return standing.has(operation.kind) ? 'still' : 'work';
}

/** Unattended work runs by itself: nobody tells that it began, so the hour does. */
export function stateOf(
  operation: Pick<PlannedOperation, 'state' | 'people' | 'start' | 'end'>,
  now: number,
): PlannedOperation['state'] {
  if (operation.state !== 'planned' || operation.people.length > 0) return operation.state;
  if (Date.parse(operation.end) <= now) return 'finished';
  return Date.parse(operation.start) <= now ? 'underWay' : 'planned';
}
