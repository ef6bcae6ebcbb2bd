import type { PromiseOutcome } from './promise-outcome.ts';

/** How much later than the middle of the forecast cars were ready, for one recipe or person. */
export interface Bias {
  readonly of: string;
  readonly promises: number;
  /** Minutes; negative is earlier. */
  readonly meanMinutes: number;
  readonly standardErrorMinutes: number;
  /** More than two standard errors from 0, with at least five promises. */
  readonly clear: boolean;
}

const FEWEST_PROMISES = 5;

/** By recipe, the latest first. */
export function biasByRecipe(outcomes: readonly PromiseOutcome[]): Bias[] {
  return biasBy(outcomes, ({ recipe }) => recipe);
}

/** By person, the latest first; promises nobody stands out in are left out. */
export function biasByPerson(outcomes: readonly PromiseOutcome[]): Bias[] {
  return biasBy(outcomes, ({ person }) => person);
}

function biasBy(outcomes: readonly PromiseOutcome[], keyOf: (outcome: PromiseOutcome) => string | null): Bias[] {
  const errors = new Map<string, number[]>();
  for (const outcome of outcomes) {
    const key = keyOf(outcome);
    if (key === null) continue;
    const error = outcome.achievedAt - outcome.medianAt;
    const known = errors.get(key);
    if (known === undefined) errors.set(key, [error]);
    else known.push(error);
  }
  return [...errors]
    .map(([of, minutes]) => {
      const n = minutes.length;
      const mean = minutes.reduce((sum, each) => sum + each, 0) / n;
      const squares = minutes.reduce((sum, each) => sum + (each - mean) ** 2, 0);
      const standardError = n > 1 ? Math.sqrt(squares / (n - 1) / n) : Number.POSITIVE_INFINITY;
      const clear = n >= FEWEST_PROMISES && Math.abs(mean) > 2 * standardError;
      return { of, promises: n, meanMinutes: mean, standardErrorMinutes: standardError, clear };
    })
    .sort((a, b) => b.meanMinutes - a.meanMinutes || a.of.localeCompare(b.of));
}
