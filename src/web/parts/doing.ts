import type { PlannedOperation } from '../../api/replies.ts';

export type Doing = 'work' | 'still' | 'wait' | 'move';

const standing = new Set(['dryOut', 'solventFlash', 'layerWait', 'cure', 'lampCure']);

/** What the eye should see of an operation: hands at work, a window running, a wait, a move. */
export function doingOf(operation: Pick<PlannedOperation, 'kind'>): Doing {
  if (operation.kind === 'move') return 'move';
  if (operation.kind === 'customerAnswer') return 'wait';
  return standing.has(operation.kind) ? 'still' : 'work';
}
