import { type Bias, biasByPerson, biasByRecipe } from './bias.ts';
import { type CoverageAtLevel, coverageByLevel } from './coverage.ts';
import type { PromiseOutcome } from './promise-outcome.ts';
import { brierScore, pinballLoss } from './scores.ts';
import { correctedSpreadFactor } from './spread-factor.ts';

/** How well promises were kept, and what to change. */
export interface Calibration {
  readonly promises: number;
  readonly coverage: readonly CoverageAtLevel[];
  /** Null without promises. */
  readonly brierScore: number | null;
  readonly pinballLossMinutes: number | null;
  readonly byRecipe: readonly Bias[];
  readonly byPerson: readonly Bias[];
  /** What to multiply the spread factor in use by: 1 while coverage is as said at every level. */
  readonly spreadFactor: number;
}

export function calibration(outcomes: readonly PromiseOutcome[]): Calibration {
  const coverage = coverageByLevel(outcomes);
  const off = coverage.some(({ verdict }) => verdict !== 'asSaid');
  return {
    promises: outcomes.length,
    coverage,
    brierScore: outcomes.length === 0 ? null : brierScore(outcomes),
    pinballLossMinutes: outcomes.length === 0 ? null : pinballLoss(outcomes),
    byRecipe: biasByRecipe(outcomes),
    byPerson: biasByPerson(outcomes),
    spreadFactor: off ? (correctedSpreadFactor(outcomes) ?? 1) : 1,
  };
}
