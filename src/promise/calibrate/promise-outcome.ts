/** A promise that was given, and what came of it. Times on any one axis, in minutes. */
export interface PromiseOutcome {
  /** Probability the promise was given at, more than 0 and less than 1. */
  readonly confidence: number;
  /** The time told to the customer. */
  readonly promisedAt: number;
  /** The time that was as likely to be early as late, when the promise was given. */
  readonly medianAt: number;
  /** When the car could be picked up. */
  readonly achievedAt: number;
  readonly recipe: string;
  /** Who did most of the work; null when nobody stands out. */
  readonly person: string | null;
}

export const wasKept = ({ promisedAt, achievedAt }: PromiseOutcome): boolean => achievedAt <= promisedAt;
