/** One finished operation: what the work content had said, and what the floor recorded. */
export interface RecordedDuration {
  /** Names the record where it is listed. */
  readonly id: string;
  /** Kind of work; what is learned of one kind says nothing of another. */
  readonly kind: string;
  /** Who did it; null for unattended work or when nobody said. */
  readonly person: string | null;
  /** What made it easier or harder than the norm knows: "soil 3", "hard paint"; null when nothing did. */
  readonly condition: string | null;
  /** The day it was begun on, so that good and bad days can be told from luck; absent when that is not known. */
  readonly day?: string;
  /** Work content in minutes, at the person's pace. */
  readonly plannedMinutes: number;
  /** Minutes of work between start and finish, pauses left out. */
  readonly workedMinutes: number;
}

/** Logarithm of how many times the planned minutes it took: durations err by factors. */
export function logRatio({ plannedMinutes, workedMinutes }: RecordedDuration): number {
  return Math.log(workedMinutes / plannedMinutes);
}
