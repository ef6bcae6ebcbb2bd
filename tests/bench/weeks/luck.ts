import { tradePriors } from '../../../src/promise/outlook/trade-priors.ts';
import { scenarioSeed, streamOf, uniform } from '../../../src/promise/simulate/seeded-draws.ts';
import { normalQuantile } from '../../../src/promise/spread/standard-normal.ts';
import type { WorkKind } from '../../../src/trade/model/recipe.ts';

const priors = tradePriors();

/** Draws by name: the same seed and name are the same luck, whatever else happens. */
export function luckOf(seed: number) {
  const own = scenarioSeed(seed, 0);
  const draw = (what: string) => uniform(own, streamOf(what));
  return {
    /** Above 0, below 1. */
    draw,
    whole: (what: string, from: number, to: number) => from + Math.floor(draw(what) * (to - from + 1)),
    /** How much longer than the norm says work takes: the trade's spread, and a good or bad day of everybody. */
    factor(what: string, kind: WorkKind, day: string, dayDeviation: number): number {
      const { logMean, logDeviation } = priors.get(kind)!;
      const ofDay = dayDeviation * normalQuantile(draw(`day ${day}`));
      return Math.exp(logMean + logDeviation * normalQuantile(draw(what)) + ofDay);
    },
  };
}

export type Luck = ReturnType<typeof luckOf>;
