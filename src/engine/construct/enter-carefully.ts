import type { Book } from './book.ts';
import { leastSlack } from './entry-order.ts';
import { firstPlan } from './first-plan.ts';
import type { JobInserter } from './insert-job.ts';
import { CAREFUL } from './insert-options.ts';

/** Nobody waits longer than a week for cars with less room: of a loaded book that keeps most, of another as many as more patience does. */
const ORDER = leastSlack(3, 7);
/** In a larger book the stays are left to what mends them, for half the work. */
const MOST_JOBS_SNUG = 600;
const HALVINGS = 2;

/**
 * Enters all jobs of a large book once more, with several ways on after each stay where the first plan followed one: three to four times the
 * work, for a half to a third of the promises broken in a loaded book. `isBetter` is asked of the plan; what is no better
 * is taken back.
 */
export function enterCarefully(book: Book, inserter: JobInserter, stop: () => boolean, isBetter: () => boolean): void {
  if (stop()) return;
  const before = book.plans.slice();
  for (let j = 0; j < before.length; j++) book.withdraw(j);
  const effort = before.length > MOST_JOBS_SNUG ? { ...CAREFUL, halvings: HALVINGS } : CAREFUL;
  const blocked = firstPlan(book, inserter, { order: ORDER, effort, rounds: 1 }, stop);
  if (blocked.length > 0 || !isBetter()) book.restore(before);
}
