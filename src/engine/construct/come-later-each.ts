import type { Book } from './book.ts';
import type { JobInserter } from './insert-job.ts';
import { SNUG } from './insert-options.ts';
import { dropOff } from './job-cost.ts';

/** Jobs after which to tell what was gained. */
const PART = 100;

/**
 * Lets each car come later where it then stands in the shop for less time, at the pickup it has, everybody else staying: the last to
 * come first, so that its place is free for those before it, as when a project is shifted right (Li and Willis 1992). Cars in the
 * shop and what is fixed stay as they are. `onPart` is called now and then, and at the end.
 */
export function comeLaterEach(
  book: Book,
  inserter: JobInserter,
  stop: () => boolean,
  onPart: () => void = () => {},
): void {
  for (const [k, j] of lastToComeFirst(book).entries()) {
    if (k > 0 && k % PART === 0) onPart();
    if (stop()) break;
    if (book.jobs[j]!.fixed) continue;
    const old = book.withdraw(j);
    book.enter(j, inserter.comeLater(j, old, SNUG) ?? old);
  }
  onPart();
}

/** All jobs, which must be entered, by their drop-off. */
export function lastToComeFirst(book: Book): number[] {
  const at = book.jobs.map((job, j) => dropOff(job, book.plans[j]!));
  return [...at.keys()].sort((a, b) => at[b]! - at[a]! || a - b);
}
