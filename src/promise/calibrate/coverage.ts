import { type PromiseOutcome, wasKept } from './promise-outcome.ts';
import { type ShareInterval, wilsonInterval } from './wilson-interval.ts';

/** Promises given at about one confidence, and how many were kept. */
export interface CoverageAtLevel {
  /** Mean confidence they were given at. */
  readonly confidence: number;
  readonly promises: number;
  readonly kept: number;
  readonly share: number;
  /** 95 % interval for the share that would be kept in the long run. */
  readonly interval: ShareInterval;
  /** `tooSure`: fewer were kept than said, beyond chance. `tooCareful`: more. Judged by the 99 % interval: several levels are looked at, week after week. */
  readonly verdict: 'asSaid' | 'tooSure' | 'tooCareful';
}

/** Promises by bands of confidence of five percent points, from the lowest band up. */
export function coverageByLevel(outcomes: readonly PromiseOutcome[]): CoverageAtLevel[] {
  const bands = new Map<number, PromiseOutcome[]>();
  for (const outcome of outcomes) {
    const band = Math.round(outcome.confidence * 20);
    const known = bands.get(band);
    if (known === undefined) bands.set(band, [outcome]);
    else known.push(outcome);
  }
  return [...bands]
    .sort(([a], [b]) => a - b)
    .map(([, within]) => {
      const confidence = within.reduce((sum, each) => sum + each.confidence, 0) / within.length;
      const kept = within.filter(wasKept).length;
      const interval = wilsonInterval(kept, within.length);
      const beyondChance = wilsonInterval(kept, within.length, 0.99);
      const verdict =
        beyondChance.to < confidence ? 'tooSure' : beyondChance.from > confidence ? 'tooCareful' : 'asSaid';
      return { confidence, promises: within.length, kept, share: kept / within.length, interval, verdict };
    });
}
