import type { Book } from '../construct/book.ts';
import type { JobInserter } from '../construct/insert-job.ts';
import { dropOff } from '../construct/job-cost.ts';
import type { JobPlan } from '../construct/job-plan.ts';
import { LateAcceptance } from './late-acceptance.ts';
import {
  aboutTheSameTime,
  lateAndInItsWay,
  longStay,
  type Neighbourhood,
  onePersonsDay,
  sameBay,
} from './neighbourhoods.ts';
import { Random } from './random.ts';
import { compareTiers } from './tiers.ts';

export interface ImproveOptions {
  readonly seed: number;
  /** Ends the search when the inserter's work reaches it. */
  readonly workLimit: number;
  /** Whether to stop now; asked between two steps. */
  readonly stop: () => boolean;
  /** Told at each better plan, which is in the book then. */
  readonly onBetter: (objective: Float64Array) => void;
  /** No plan can be better than this in any tier; reaching it everywhere ends the search. */
  readonly bound: ArrayLike<number>;
}

const NEIGHBOURHOODS: readonly Neighbourhood[] = [lateAndInItsWay, sameBay, onePersonsDay, longStay, aboutTheSameTime];
/** Most operations planned anew in one step. */
const MOST_OPERATIONS = 150;
const HISTORY_LENGTH = 5;
/** Chance that the search passes over a place or mode that would do, so that it does not repeat itself. */
const PASS_OVER = 0.03;

/**
 * Ruin and recreate: a few jobs that have to do with each other are withdrawn from the book and entered anew, in
 * another order. Ends with the best plan found in the book.
 */
export function improve(book: Book, inserter: JobInserter, options: ImproveOptions): void {
  const random = new Random(options.seed);
  const tiers = options.bound.length;
  const current = new Float64Array(tiers);
  book.objective(current);
  const best = current.slice();
  let bestPlans = book.plans.slice();
  const acceptance = new LateAcceptance(HISTORY_LENGTH, current);
  const candidate = new Float64Array(tiers);
  const noise = { passOver: () => random.unit() < PASS_OVER };
  const averageOperations =
    book.jobs.reduce((sum, job) => sum + job.operations.length, 0) / Math.max(1, book.jobs.length);
  const mostJobs = Math.max(
    2,
    Math.min(book.jobs.length, Math.floor(MOST_OPERATIONS / Math.max(1, averageOperations))),
  );
  const chosen: number[] = [];
  const before: JobPlan[] = [];

  while (
    inserter.work < options.workLimit &&
    book.jobs.length > 0 &&
    !options.stop() &&
    compareTiers(best, options.bound) > 0
  ) {
    chosen.length = 0;
    NEIGHBOURHOODS[random.below(NEIGHBOURHOODS.length)]!(
      book,
      random,
      1 + random.below(1 + random.below(mostJobs)),
      chosen,
    );
    orderForEntry(book, random, chosen);
    before.length = 0;
    for (const j of chosen) before.push(book.withdraw(j));
    const limit = acceptance.limit(current);
    const laterDropOffs = random.unit() < 0.5;
    let entered = 0;
    for (const j of chosen) {
      const plan = inserter.insert(j, { width: 1, restarts: 6, noise, notBefore: 0, firstPlaces: null, laterDropOffs });
      if (plan === null) break;
      book.enter(j, plan);
      entered++;
      book.objective(candidate);
      if (compareTiers(candidate, limit) > 0) break;
    }
    if (entered < chosen.length || compareTiers(candidate, limit) > 0) {
      for (let k = 0; k < entered; k++) book.withdraw(chosen[k]!);
      for (const [k, j] of chosen.entries()) book.enter(j, before[k]!);
    } else {
      current.set(candidate);
      if (compareTiers(current, best) < 0) {
        best.set(current);
        bestPlans = book.plans.slice();
        options.onBetter(best);
      }
    }
    acceptance.step(current);
  }
  book.restore(bestPlans);
}

/** Puts the jobs in the order in which they are entered anew; cars in the shop always first, then what is fixed. */
function orderForEntry(book: Book, random: Random, chosen: number[]): void {
  random.shuffle(chosen);
  const draw = random.below(4);
  const key = (j: number) => {
    const job = book.jobs[j]!;
    if (draw === 1) return Math.min(job.promiseAt, job.dueAt) - job.leastMinutes;
    if (draw === 2) return dropOff(job, book.plans[j]!);
    return draw === 3 ? -job.leastMinutes : 0;
  };
  const keys = new Map(chosen.map((j) => [j, key(j)]));
  const rank = (j: number) => (book.jobs[j]!.inShop ? 0 : book.jobs[j]!.fixed ? 1 : 2);
  chosen.sort((a, b) => rank(a) - rank(b) || keys.get(a)! - keys.get(b)!);
}
