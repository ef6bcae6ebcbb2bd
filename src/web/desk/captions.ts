import type { PlannedOperation } from '../../api/replies.ts';
import { type Doing, doingOf, stateOf } from '../parts/doing.ts';

/** Pixels that one line of a caption needs. */
export const LINE_PX = 15;
const TWO_LINES_PX = 30;
const LEAST_WAIT_PX = 30;

/** Something a car goes through in a stay, in pixels from the top of what is shown of it. */
export interface Stretch {
  readonly top: number;
  readonly height: number;
  readonly label: string;
  readonly doing: Doing;
  readonly state: PlannedOperation['state'];
  readonly until: string;
  readonly from: string;
  /** Absent for a wait between two operations. */
  readonly operation?: PlannedOperation;
}

/** Text beside one stretch, or beside several that are too short for a line each. */
export interface Caption {
  readonly top: number;
  readonly height: number;
  readonly of: readonly Stretch[];
  readonly twoLines: boolean;
}

/** The operations shown in a stay and the waits between them, in order. */
export function stretchesOf(
  operations: readonly PlannedOperation[],
  shown: { readonly from: number; readonly to: number },
  pixelsPerMs: number,
  now: number,
  waiting: string,
): Stretch[] {
  const y = (at: number) => (Math.min(Math.max(at, shown.from), shown.to) - shown.from) * pixelsPerMs;
  const stretches: Stretch[] = [];
  let reached = shown.from;
  const wait = (to: number) => {
    if ((to - reached) * pixelsPerMs < LEAST_WAIT_PX) return;
    stretches.push({
      top: y(reached),
      height: y(to) - y(reached),
      label: waiting,
      doing: 'wait',
      state: 'planned',
      from: new Date(reached).toISOString(),
      until: new Date(to).toISOString(),
    });
  };
  for (const operation of [...operations].sort((a, b) => Date.parse(a.start) - Date.parse(b.start))) {
    const { pieces } = operation;
    const state = stateOf(operation, now);
    const parts = pieces.length > 1 ? pieces : [{ from: operation.start, to: operation.end }];
    for (const part of parts) {
      const start = Date.parse(part.from);
      const end = Date.parse(part.to);
      if (end <= shown.from || start >= shown.to || end === start) continue;
      wait(start);
      stretches.push({
        top: y(start),
        height: y(end) - y(start),
        label: operation.label,
        doing: doingOf(operation),
        // What lies behind a pause is done, whatever is to come of it.
        state: parts.length > 1 && end <= now ? 'finished' : state,
        from: part.from,
        until: part.to,
        operation,
      });
      reached = Math.max(reached, end);
    }
  }
  if (stretches.length > 0) wait(shown.to);
  return stretches;
}

/**
 * Captions that never lie over one another. Stretches that leave less than a line before the next one share a caption, unless
 * the next has room for its own: then the short one goes without, and its band and the list of the job tell of it.
 * `reservedPx` is kept free at the top.
 */
export function captionsOf(stretches: readonly Stretch[], heightPx: number, reservedPx: number): Caption[] {
  const captions: Caption[] = [];
  let group: Stretch[] = [];
  for (const [index, stretch] of stretches.entries()) {
    const end = stretches[index + 1]?.top ?? heightPx;
    const own = Math.max(stretch.top, reservedPx);
    if (end - own >= LINE_PX) group = [stretch];
    else group.push(stretch);
    const top = Math.max(group[0]?.top ?? 0, reservedPx);
    if (end - top < LINE_PX) continue;
    captions.push({ top, height: end - top, of: group, twoLines: group.length === 1 && end - top >= TWO_LINES_PX });
    group = [];
  }
  return captions;
}
