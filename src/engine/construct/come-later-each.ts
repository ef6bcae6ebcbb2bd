import type { Book } from './book.ts';
import type { JobInserter } from './insert-job.ts';
import { SNUG } from './insert-options.ts';
import { jobByJob, lastToComeFirst } from './job-by-job.ts';

const EFFORT = { ...SNUG, halvings: 4 };

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
  for (const j of jobByJob(lastToComeFirst(book), stop, onPart)) {
    if (book.jobs[j]!.fixed) continue;
    const old = book.withdraw(j);
    book.enter(j, inserter.comeLater(j, old, EFFORT) ?? old);
  }
}
