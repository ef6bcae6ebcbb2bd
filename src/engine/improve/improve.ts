import type { ShopBound } from '../bound/bound.ts';
import type { Book } from '../construct/book.ts';
import { limitFrom } from '../construct/cost-limit.ts';
import type { JobInserter } from '../construct/insert-job.ts';
import { dropOff } from '../construct/job-cost.ts';
import type { JobPlan } from '../construct/job-plan.ts';
import { DropOffTargets } from './drop-off-targets.ts';
import { LateAcceptance } from './late-acceptance.ts';
import {
  aboutTheSameTime,
  farFromIdeal,
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
  /** Whether the plan in the book obeys every rule; asked of each better plan. A plan that does not is given up. */
  readonly isSound: () => boolean;
  /** No plan can be better than this in any tier; reaching it everywhere ends the search. It rises on the way. */
  readonly bound: ShopBound;
}

/** One entry is one chance in all of them. */
const NEIGHBOURHOODS: readonly Neighbourhood[] = [
  lateAndInItsWay,
  sameBay,
  onePersonsDay,
  longStay,
  aboutTheSameTime,
  farFromIdeal,
  farFromIdeal,
  farFromIdeal,
];
/** Most operations planned anew in one step. */
const MOST_OPERATIONS = 150;
const HISTORY_LENGTH = 5;
/** Chance that the search passes over a place or mode that would do, so that it does not repeat itself. */
const PASS_OVER = 0.03;
/** Chance that later drop-offs are tried too, for a shorter stay. */
const LATER = 0.5;
const MOST_RESTARTS = 6;

/**
 * Ruin and recreate: a few jobs that have to do with each other are withdrawn from the book and entered anew, in
 * another order. What is left to save says what each may cost, so that most attempts end early. Ends with the best plan found
 * in the book.
 */
export function improve(book: Book, inserter: JobInserter, options: ImproveOptions): void {
  const { bound } = options;
  const random = new Random(options.seed);
  const targets = new DropOffTargets(book, bound, random);
  const names = book.shop.problem.tiers;
  const tiers = names.length;
  const makespan = names.indexOf('makespan');
  const current = new Float64Array(tiers);
  book.objective(current);
  const best = current.slice();
  let bestPlans = book.plans.slice();
  const acceptance = new LateAcceptance(HISTORY_LENGTH, current);
  const candidate = new Float64Array(tiers);
  const rest = new Float64Array(tiers);
  const allowed = new Float64Array(tiers);
  const noise = { passOver: () => random.unit() < PASS_OVER };
  const combination = (combinations: number) => random.below(combinations);
  const averageOperations =
    book.jobs.reduce((sum, job) => sum + job.operations.length, 0) / Math.max(1, book.jobs.length);
  const mostJobs = Math.max(
    2,
    Math.min(book.jobs.length, Math.floor(MOST_OPERATIONS / Math.max(1, averageOperations))),
  );
  const chosen: number[] = [];
  const before: JobPlan[] = [];

  /** Enters the chosen again, one after another, for as long as they stay within `limit`; returns how many it entered. */
  function recreate(limit: Float64Array): number {
    const laterDropOffs = random.unit() < LATER;
    rest.fill(0);
    for (const j of chosen) for (let t = 0; t < tiers; t++) rest[t]! += bound.least[j]![t]!;
    book.objective(candidate);
    for (const [k, j] of chosen.entries()) {
      const least = bound.least[j]!;
      for (let t = 0; t < tiers; t++) {
        rest[t]! -= least[t]!;
        allowed[t] = t === makespan ? limit[t]! : limit[t]! - candidate[t]! - rest[t]!;
      }
      const most = limitFrom(book.jobs[j]!, names, allowed, least);
      if (most === null) return k;
      const plan = inserter.insert(j, {
        width: 1,
        restarts: MOST_RESTARTS,
        noise,
        notBefore: targets.draw(j, dropOff(book.jobs[j]!, before[k]!)),
        firstPlaces: null,
        laterDropOffs,
        limit: most,
        combination,
      });
      if (plan === null) return k;
      book.enter(j, plan);
      book.objective(candidate);
      if (compareTiers(candidate, limit) > 0) return k + 1;
    }
    return chosen.length;
  }

  while (
    inserter.work + bound.work < options.workLimit &&
    book.jobs.length > 0 &&
    !options.stop() &&
    compareTiers(best, bound.tiers) > 0
  ) {
    chosen.length = 0;
    const neighbourhood = NEIGHBOURHOODS[random.below(NEIGHBOURHOODS.length)]!;
    neighbourhood(book, random, 1 + random.below(1 + random.below(mostJobs)), chosen, bound);
    orderForEntry(book, random, chosen);
    before.length = 0;
    for (const j of chosen) before.push(book.withdraw(j));
    const limit = acceptance.limit(current);
    const entered = recreate(limit);
    if (entered < chosen.length || compareTiers(candidate, limit) > 0) {
      for (let k = 0; k < entered; k++) book.withdraw(chosen[k]!);
      for (const [k, j] of chosen.entries()) book.enter(j, before[k]!);
    } else {
      current.set(candidate);
      if (compareTiers(current, best) < 0 && !options.isSound()) {
        book.restore(bestPlans);
        current.set(best);
      } else if (compareTiers(current, best) < 0) {
        best.set(current);
        bestPlans = book.plans.slice();
        options.onBetter(best);
      }
    }
    acceptance.step(current);
  }
  book.restore(bestPlans);
}

/**
 * Puts the jobs in the order in which they are entered anew; cars in the shop always first, since what is a fact of them gives
 * way to nobody, then what is fixed.
 */
function orderForEntry(book: Book, random: Random, chosen: number[]): void {
  const draw = random.below(5);
  if (draw < 4) random.shuffle(chosen);
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
