/** The presence of a task that is always there. */
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
