/** How long whoever asks at the desk may be kept for further choices. */
export interface Patience {
  /** Milliseconds by a clock that never jumps. */
  clock(): number;
  /** Whether others wait for an answer too: then nothing is worth the wait but the first slot. */
  othersWait(): boolean;
}

/** Of somebody who asks alone. */
export function alone(clock: () => number): Patience {
  return { clock, othersWait: () => false };
}

/** Of somebody who wants the first slot only. */
export const IMPATIENT: Patience = { clock: () => 0, othersWait: () => true };
