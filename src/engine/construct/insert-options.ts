import { type CostLimit, NO_LIMIT } from './cost-limit.ts';
import { NO_NOISE, type Noise } from './earliest-fit.ts';

export type LaterPickup = 'any' | 'told' | 'none';

/** How to look for a job's plan. */
export interface InsertOptions {
  /** Labels kept after each stay: how many different ways on are followed. */
  readonly width: number;
  /** How often the whole job is tried anew, later, when it runs into a dead end. */
  readonly restarts: number;
  /** Minutes by which each try after many dead ends is later than the one before, at least. */
  readonly leap: number;
  readonly noise: Noise;
  /** Earliest drop-off wanted; the job's own release when that is later. */
  readonly notBefore: number;
  /** Only these places for the first stay; null means any it can take. */
  readonly firstPlaces: readonly number[] | null;
  /** Whether later drop-offs are tried too, for a shorter stay at no cost to the promise. */
  readonly laterDropOffs: boolean;
  /** How often the wait that is left is halved in looking for them. */
  readonly halvings: number;
  /** What a later drop-off may put the pickup off to: any hour or the hour told, where one is; only that; no later than it was. */
  readonly laterPickup: LaterPickup;
  /** What the plan may cost; more is as good as none. */
  readonly limit: CostLimit;
  /** Draws the one combination of the job's branches to try, from 0 to below the number there are; null: all are tried. */
  readonly combination: ((combinations: number) => number) | null;
}

/** For a job by itself, as soon as it can be ready. */
export const THOROUGH: InsertOptions = {
  width: 3,
  restarts: 60,
  leap: 1,
  noise: NO_NOISE,
  notBefore: 0,
  firstPlaces: null,
  laterDropOffs: false,
  halvings: 4,
  laterPickup: 'any',
  limit: NO_LIMIT,
  combination: null,
};

/** For one job of many: one way on after each stay, and a stay no longer than it must be, which leaves the shop to others. */
export const BRIEF: InsertOptions = { ...THOROUGH, width: 1, laterDropOffs: true };

/** The same at no cost to its pickup, so that a shop with much to do is not left idle before. */
export const SNUG: InsertOptions = { ...BRIEF, laterPickup: 'none', halvings: 2 };

/** The same with all effort: two to three times the work. */
export const CAREFUL: InsertOptions = { ...THOROUGH, laterDropOffs: true, laterPickup: 'none' };

/** The same with the first drop-off that does: a third of the work, and stays that are mended afterwards. */
export const QUICK: InsertOptions = { ...THOROUGH, width: 1 };
