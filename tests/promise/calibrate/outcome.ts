import type { PromiseOutcome } from '../../../src/promise/calibrate/promise-outcome.ts';

export function outcome(parts: Partial<PromiseOutcome> = {}): PromiseOutcome {
  return {
    confidence: 0.9,
    promisedAt: 1000,
    medianAt: 900,
    achievedAt: 950,
    recipe: 'coating',
    person: null,
    ...parts,
  };
}
