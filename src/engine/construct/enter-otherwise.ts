import type { Book } from './book.ts';
import { earliestPromise, leastSlack } from './entry-order.ts';
import { firstPlan } from './first-plan.ts';
import type { JobInserter } from './insert-job.ts';
import { QUICK, SNUG } from './insert-options.ts';

/**
 * Other ways to enter a large book, the cheapest first. Which is best depends on how loaded it is: where a third of the cars are late
 * whatever is done, those that come as soon as can be break up to a third fewer promises, for a tenth more lead; elsewhere how long
 * a car may wait for those promised decides.
 */
const WAYS = [
  { order: leastSlack(1, 14), effort: QUICK },
  { order: leastSlack(3, 7), effort: QUICK },
  { order: earliestPromise, effort: SNUG },
  { order: leastSlack(2, 14), effort: SNUG },
  { order: leastSlack(5, 14), effort: SNUG },
  { order: leastSlack(3, 14), effort: QUICK },
] as const;

/** So many promises may an entry be behind half-way and still come out ahead; with as many broken, so many minutes late beyond twice the best's. */
const PROMISES_BEHIND = 3;
const MINUTES_BEHIND = 3_000;

/**
 * Enters all jobs anew in other ways; `isBetter` is asked of each plan, and what is no better is taken back. An entry is given up once the
 * jobs in it cost clearly more than the same jobs do in the best plan so far.
 */
export function enterOtherwise(book: Book, inserter: JobInserter, stop: () => boolean, isBetter: () => boolean): void {
  const objective = new Float64Array(book.shop.problem.tiers.length);
  let costs: readonly Float64Array[] = [];
  const isHopeless = () => {
    if (stop()) return true;
    book.objective(objective);
    let first = 0;
    let second = 0;
    for (let j = 0; j < costs.length; j++) {
      if (book.plans[j] === null) continue;
      first += costs[j]![0]!;
      second += costs[j]![1]!;
    }
    return (
      objective[0]! > first + PROMISES_BEHIND || (objective[0]! >= first && objective[1]! > 2 * second + MINUTES_BEHIND)
    );
  };
  for (const { order, effort } of WAYS) {
    if (stop()) return;
    const best = book.plans.slice();
    costs = book.costs.map((cost) => cost.slice());
    for (let j = 0; j < costs.length; j++) book.withdraw(j);
    const blocked = firstPlan(book, inserter, { order, effort, rounds: 1 }, isHopeless);
    if (blocked.length > 0 || !isBetter()) book.restore(best);
  }
}
