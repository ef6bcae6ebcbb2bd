import type { Book } from './book.ts';
import { dropOff } from './job-cost.ts';

/** Jobs after which to tell what was gained. */
const PART = 100;

/** Does something for one job after another until told to stop; `onPart` is called now and then, and at the end. */
export function jobByJob(
  order: readonly number[],
  stop: () => boolean,
  onPart: () => void,
  work: (j: number) => void,
): void {
  for (const [k, j] of order.entries()) {
    if (k > 0 && k % PART === 0) onPart();
    if (stop()) break;
    work(j);
  }
  onPart();
}

/** All jobs, which must be entered, by their drop-off. */
export function lastToComeFirst(book: Book): number[] {
  const at = book.jobs.map((job, j) => dropOff(job, book.plans[j]!));
  return [...at.keys()].sort((a, b) => at[b]! - at[a]! || a - b);
}
