import type { ShopBound } from '../bound/bound.ts';
import type { LeadProfile } from '../bound/lead-profile.ts';
import type { Book } from '../construct/book.ts';
import type { JobModel } from '../construct/job-model.ts';
import type { Random } from './random.ts';

const DAY_MINUTES = 24 * 60;
/** Longest stay, as a share of the shortest, after a drop-off that is worth a try. */
const WORTH = 1.15;
const WORTH_MINUTES = 30;
/** Chances of the earliest drop-off, and of one near the last; else one that makes for a short stay. */
const EARLIEST = 0.25;
const NEAR = 0.25;
/** Chance that a job takes the time at which the one that took its place was there. */
const VACATED = 0.5;
/** How much later than its release a job without promise is let come. */
const WITHOUT_PROMISE_DAYS = 14;

/** Where the first of some withdrawn jobs is entered anew, and when it came before: there is room for the others now. */
export interface Trade {
  readonly seed: number;
  readonly at: number;
  readonly vacated: number;
}

/** How many drop-offs of a job's profile, from the first on, could have it ready when it is wanted; the first counts always. */
export function dropOffsInTime({ at, lead }: LeadProfile, { promiseAt, dueAt, release }: JobModel): number {
  const wanted = Math.min(promiseAt, dueAt, release + WITHOUT_PROMISE_DAYS * DAY_MINUTES);
  let some = 1;
  while (some < at.length && at[some]! + lead[some]! <= wanted) some++;
  return some;
}

/** Draws the drop-off from which on a job is looked for a place again. */
export class DropOffTargets {
  readonly #book: Book;
  readonly #bound: ShopBound;
  readonly #random: Random;

  constructor(book: Book, bound: ShopBound, random: Random) {
    this.#book = book;
    this.#bound = bound;
    this.#random = random;
  }

  /** `before`: when it came so far. `trade`: of the jobs withdrawn with it, when one is to take another's place. */
  draw(j: number, before: number, trade: Trade | null): number {
    const random = this.#random;
    if (trade?.seed === j) return trade.at;
    if (trade !== null && random.unit() < VACATED) return Math.max(0, trade.vacated - random.below(DAY_MINUTES));
    const draw = random.unit();
    if (draw < EARLIEST) return 0;
    if (draw < EARLIEST + NEAR) return Math.max(0, before + Math.floor((random.unit() - 0.5) * 2 * DAY_MINUTES));
    const profile = this.#bound.profile(j);
    if (profile === null || profile.at.length === 0) return 0;
    const worth = profile.least * WORTH + WORTH_MINUTES;
    // Draw among those that could keep what is wanted; look on from there for one with a short stay.
    const some = dropOffsInTime(profile, this.#book.jobs[j]!);
    const from = random.below(some);
    for (let k = 0; k < some; k++) {
      const next = (from + k) % some;
      if (profile.lead[next]! <= worth) return profile.at[next]!;
    }
    return profile.at[from]!;
  }
}
