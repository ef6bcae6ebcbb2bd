/** What one proof does differently from another of the same problem. */
export interface Strategy {
  /** By how much the activity of literals fades at each conflict; nearer to 1 remembers longer. */
  readonly decay: number;
  /** Conflicts until the shortest restart. */
  readonly restartUnit: number;
  /** Whether literals are tried as in the best schedule first, or as small as they can be. */
  readonly followsBest: boolean;
  /** Whether searches below the best aim at the lower bound itself, so that it rises one by one. */
  readonly climbs: boolean;
  /** The heuristic's share of all work; absent: what suits the kind of problem. */
  readonly heuristicShare?: number;
}

/** What a single proof does. */
export const BALANCED: Strategy = { decay: 0.95, restartUnit: 128, followsBest: true, climbs: false };

const STRATEGIES: readonly Strategy[] = [
  BALANCED,
  { decay: 0.9, restartUnit: 64, followsBest: true, climbs: true, heuristicShare: 0.05 },
  { decay: 0.95, restartUnit: 128, followsBest: true, climbs: false, heuristicShare: 0.85 },
  { decay: 0.97, restartUnit: 256, followsBest: false, climbs: false },
];

/** The strategy of the k-th proof of a portfolio, no two alike; the first is what a single proof does. */
export function strategyOf(k: number): Strategy {
  const strategy = STRATEGIES[k % STRATEGIES.length]!;
  const round = Math.floor(k / STRATEGIES.length);
  return round === 0 ? strategy : { ...strategy, decay: Math.max(0.75, strategy.decay - 0.02 * round) };
}
