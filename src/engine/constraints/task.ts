import type { Bounds } from '../learn/bounds.ts';

export const ALWAYS = -1;

/**
 * What a resource sees of an operation in one mode: from `start` to `end + endOffset` it holds `amount`. When the duration
 * is fixed, `end` is the start's own half and the offset the duration.
 */
export interface Task {
  /** Even half of the start. */
  readonly start: number;
  /** Even half that, with the offset, gives the end. */
  readonly end: number;
  readonly endOffset: number;
  readonly amount: number;
  /** Half of the Boolean that says whether this mode is taken, or ALWAYS. */
  readonly presence: number;
}

/** Literal bounds: when (start ^ 1, latestAtMost) and (end, endAtLeast) hold, a present task covers the minute. */
export function startsBy(minute: number): number {
  return -minute;
}

export function earliestStart(bounds: Bounds, task: Task): number {
  return bounds.lower[task.start]!;
}

export function latestStart(bounds: Bounds, task: Task): number {
  return -bounds.lower[task.start ^ 1]!;
}

export function earliestEnd(bounds: Bounds, task: Task): number {
  return bounds.lower[task.end]! + task.endOffset;
}

export function latestEnd(bounds: Bounds, task: Task): number {
  return task.endOffset - bounds.lower[task.end ^ 1]!;
}
