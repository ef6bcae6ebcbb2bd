import { NO_NOISE, type Noise } from './earliest-fit.ts';

/** How to look for a job's plan. */
export interface InsertOptions {
  /** Labels kept after each stay: how many different ways on are followed. */
  readonly width: number;
  /** How often the whole job is tried anew, later, when it runs into a dead end. */
  readonly restarts: number;
  readonly noise: Noise;
  /** Earliest drop-off wanted; the job's own release when that is later. */
  readonly notBefore: number;
  /** Only these places for the first stay; null means any it can take. */
  readonly firstPlaces: readonly number[] | null;
  /** Whether later drop-offs are tried too, for a shorter stay at no cost to the promise. */
  readonly laterDropOffs: boolean;
}

/** For a job by itself. */
export const THOROUGH: InsertOptions = {
  width: 3,
  restarts: 60,
  noise: NO_NOISE,
  notBefore: 0,
  firstPlaces: null,
  laterDropOffs: false,
};
