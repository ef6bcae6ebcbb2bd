import type { ShopBound } from '../bound/bound.ts';
import { NEVER } from '../calendar/never.ts';
import type { Book } from '../construct/book.ts';
import { latestFor, limitFrom } from '../construct/cost-limit.ts';
import type { JobInserter } from '../construct/insert-job.ts';
import { QUICK } from '../construct/insert-options.ts';
import { dropOff } from '../construct/job-cost.ts';
import type { JobPlan } from '../construct/job-plan.ts';
import { DropOffTargets, type Trade } from './drop-off-targets.ts';
import type { Random } from './random.ts';
import { compareTiers } from './tiers.ts';

/** Chance that the search passes over a place or mode that would do, so that it does not repeat itself. */
const PASS_OVER = 0.01;
/** Chance that later drop-offs are tried too, for a shorter stay. */
const LATER = 0.5;
const MOST_RESTARTS = 6;

/** Jobs to be entered anew, in this order. */
export interface Choice {
  readonly chosen: readonly number[];
  /** The one that must cost less than before; -1 when none must. */
  readonly seed: number;
  /** When it is to take the place of the others. */
  readonly trade: Trade | null;
}

/**
 * Enters withdrawn jobs again. What is left to save says what each may cost, so that most attempts end early.
 */
export class Recreator {
  readonly #book: Book;
  readonly #inserter: JobInserter;
  readonly #bound: ShopBound;
  readonly #random: Random;
  readonly #targets: DropOffTargets;
  readonly #makespan: number;
  readonly #tardiness: number;
  /** The objective with what has been entered again. */
  readonly candidate: Float64Array;
  /** How many jobs were entered last. */
  entered = 0;
  readonly #rest: Float64Array;
  readonly #allowed: Float64Array;
  readonly #gain: Float64Array;
  #tardinessLeft = NEVER;

  constructor(book: Book, inserter: JobInserter, bound: ShopBound, random: Random) {
    this.#book = book;
    this.#inserter = inserter;
    this.#bound = bound;
    this.#random = random;
    this.#targets = new DropOffTargets(book, bound, random);
    const { tiers } = book.shop.problem;
    this.#makespan = tiers.indexOf('makespan');
    this.#tardiness = tiers.indexOf('tardiness');
    this.candidate = new Float64Array(tiers.length);
    this.#rest = new Float64Array(tiers.length);
    this.#allowed = new Float64Array(tiers.length);
    this.#gain = new Float64Array(tiers.length);
  }

  /**
   * Enters `chosen`, which were withdrawn and had the plans `before`, one after another for as long as the whole stays within `limit`; the seed only where it
   * costs less than before; with `noLater` the tardiness, too, stays within the limit's, whatever is saved before it. False when that is impossible; `entered` of
   * them are in the book then.
   */
  enter({ chosen, seed, trade }: Choice, before: readonly JobPlan[], limit: Float64Array, noLater: boolean): boolean {
    const book = this.#book;
    const random = this.#random;
    const { candidate } = this;
    const noise = { passOver: () => random.unit() < PASS_OVER };
    const combination = (combinations: number) => random.below(combinations);
    const laterDropOffs = random.unit() < LATER;
    this.#rest.fill(0);
    for (const j of chosen) for (let t = 0; t < limit.length; t++) this.#rest[t]! += this.#bound.least[j]![t]!;
    book.objective(candidate);
    this.entered = 0;
    for (const [k, j] of chosen.entries()) {
      this.#allow(j, limit, j === seed);
      const most = limitFrom(book.jobs[j]!, book.shop.problem.tiers, this.#allowed, this.#bound.least[j]!);
      if (most === null) return false;
      const latest = noLater ? latestFor(book.jobs[j]!, this.#tardinessLeft) : NEVER;
      const plan = this.#inserter.insert(j, {
        ...QUICK,
        restarts: MOST_RESTARTS,
        noise,
        notBefore: this.#targets.draw(j, dropOff(book.jobs[j]!, before[k]!), trade),
        laterDropOffs,
        limit: { ...most, latestPickup: Math.min(most.latestPickup, latest) },
        combination,
      });
      if (plan === null) return false;
      book.enter(j, plan);
      this.entered = k + 1;
      book.objective(candidate);
      if (compareTiers(candidate, limit) > 0 || (noLater && candidate[this.#tardiness]! > limit[this.#tardiness]!))
        return false;
    }
    return true;
  }

  /** Writes what job `j` may add to each tier. */
  #allow(j: number, limit: Float64Array, gains: boolean): void {
    const least = this.#bound.least[j]!;
    for (let t = 0; t < limit.length; t++) {
      this.#rest[t]! -= least[t]!;
      this.#allowed[t] = t === this.#makespan ? limit[t]! : limit[t]! - this.candidate[t]! - this.#rest[t]!;
    }
    this.#tardinessLeft = this.#tardiness < 0 ? NEVER : this.#allowed[this.#tardiness]!;
    if (!gains) return;
    const cost = this.#book.costs[j]!;
    const first = cost.findIndex((each, t) => t !== this.#makespan && each > least[t]!);
    if (first < 0) return;
    this.#gain.set(cost);
    this.#gain[first]!--;
    this.#gain.fill(Number.POSITIVE_INFINITY, first + 1);
    if (compareTiers(this.#gain, this.#allowed) < 0) this.#allowed.set(this.#gain);
  }
}
