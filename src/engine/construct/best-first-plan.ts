import type { ShopBound } from '../bound/bound.ts';
import { compareTiers } from '../improve/tiers.ts';
import type { Blocked } from './blocked.ts';
import type { Book } from './book.ts';
import { type EntryOrder, earliestPromise, leastSlack } from './entry-order.ts';
import { firstPlan } from './first-plan.ts';
import type { JobInserter } from './insert-job.ts';
import { BRIEF, type InsertOptions, QUICK, SNUG } from './insert-options.ts';
import type { JobPlan } from './job-plan.ts';
import { reinsertEach } from './reinsert-each.ts';

interface Try {
  readonly order: EntryOrder;
  readonly effort: InsertOptions;
}

/** Of a small book, in a few milliseconds each. */
const SMALL: readonly Try[] = [
  { order: earliestPromise, effort: BRIEF },
  { order: leastSlack(1, 7), effort: BRIEF },
  { order: leastSlack(2, 14), effort: BRIEF },
  { order: leastSlack(3, 7), effort: QUICK },
];
/** Where one entry of all jobs takes a good part of a second, drop-offs are left to what mends stays. */
const MIDDLING: readonly Try[] = [
  { order: earliestPromise, effort: QUICK },
  { order: leastSlack(2, 7), effort: QUICK },
];
/**
 * By promise, those without one would look for a gap in a full book, which takes time with the square of the jobs. Snug stays take two
 * to three times the work of cars that come as soon as can be, for a fifth to a quarter less lead. More effort is left to the search
 * (`enter-carefully.ts`).
 */
const LARGE: readonly Try[] = [{ order: leastSlack(3, 14), effort: SNUG }];
/** A book of more jobs is no small one. */
export const MOST_JOBS_SMALL = 100;
/** A book of more jobs is a large one. */
export const MOST_JOBS_MIDDLING = 300;
/** Of a small book, units of search work beyond which no further order is tried: some 50 ms. */
const MOST_WORK = 60_000;
/** How often jobs that found no time are put first and everything is planned anew. */
const ROUNDS = 6;
/** When so many orders leave somebody without time, others have to give way. */
const MOST_FAILURES = 2;

/**
 * Enters all jobs in each of several orders, as many as take little time in a book of this size, goes on with the best of the plans
 * and mends what it gave jobs before it knew of the others. No order is best for all books: of those tried each is, for
 * some. Of a plan wanted at once the first order that leaves nobody out is enough: whoever betters it does the rest. Returns what
 * blocked the jobs that found no time; empty when all are planned.
 */
export function bestFirstPlan(
  book: Book,
  inserter: JobInserter,
  bound: ShopBound,
  cancelled: () => boolean,
  atOnce = false,
): Blocked[] {
  const before = book.plans.slice();
  const began = inserter.work;
  const jobs = book.jobs.length;
  const tries = jobs <= MOST_JOBS_SMALL ? SMALL : jobs <= MOST_JOBS_MIDDLING ? MIDDLING : LARGE;
  const objective = new Float64Array(book.shop.problem.tiers.length);
  let best: { readonly plans: (JobPlan | null)[]; readonly objective: Float64Array } | null = null;
  const tried = new Set<string>();
  let blocked: Blocked[] = [];
  let failures = 0;
  for (const { order, effort } of tries) {
    if (best !== null && (cancelled() || (tries === SMALL && inserter.work - began > MOST_WORK))) break;
    const sequence = sequenceOf(book, order);
    if (tried.has(sequence)) continue;
    tried.add(sequence);
    book.restore(before);
    blocked = firstPlan(book, inserter, { order, effort, rounds: best === null ? ROUNDS : 1 }, cancelled);
    if (blocked.length > 0) {
      if (best === null && (cancelled() || ++failures === MOST_FAILURES)) return blocked;
      continue;
    }
    book.objective(objective);
    if (best === null || compareTiers(objective, best.objective) < 0) {
      best = { plans: book.plans.slice(), objective: objective.slice() };
      if (atOnce || compareTiers(objective, bound.tiers) <= 0) return [];
    }
  }
  if (best === null) return blocked;
  book.restore(best.plans);
  if (tries !== LARGE) reinsertEach(book, inserter, bound, cancelled);
  return [];
}

/** The jobs in order; two orders often agree on a few cars. */
function sequenceOf(book: Book, order: EntryOrder): string {
  const rank = book.jobs.map(order);
  return [...rank.keys()].sort((a, b) => rank[a]! - rank[b]! || a - b).join();
}
