/** How long whoever asks at the desk may be kept for further choices. */
export interface Patience {
  /** Milliseconds by a clock that never jumps. */
  clock(): number;
  /** Whether others wait for an answer too: then nothing is worth the wait but the first slot. */
  othersWait(): boolean;
  /** Milliseconds within which further choices are likely to be found, or else not looked for. */
  mostMs(): number;
}

/** Somebody is on the telephone. */
const ON_THE_TELEPHONE_MS = 80;
/** A desk that is asked all the time spends no more of it than this on further choices; somebody who asks once a second has them all. */
const SHARE_OF_TIME = 0.1;

/** Of somebody who asks alone. */
export function alone(clock: () => number): Patience {
  return { clock, othersWait: () => false, mostMs: () => ON_THE_TELEPHONE_MS };
}

/** Of somebody who wants the first slot only. */
export const IMPATIENT: Patience = { clock: () => 0, othersWait: () => true, mostMs: () => 0 };

/** With whoever asks so many milliseconds after the one before. */
export function patienceAfter(sinceLastMs: number): number {
  return Math.min(ON_THE_TELEPHONE_MS, SHARE_OF_TIME * sinceLastMs);
}
