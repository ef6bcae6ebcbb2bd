import type { ShopBound } from '../bound/bound.ts';
import { compareTiers } from '../improve/tiers.ts';
import type { Book } from './book.ts';
import { limitFrom } from './cost-limit.ts';
import type { JobInserter } from './insert-job.ts';
import { BRIEF } from './insert-options.ts';
import { jobByJob, lastToComeFirst } from './job-by-job.ts';

const EFFORT = { ...BRIEF, restarts: 6 };

/**
 * Withdraws each job in turn, the last to come first, and enters it where it costs less, if it can, everybody else staying: one that
 * comes later makes room for those before it to do so as well, as when a project is shifted right (Li and Willis 1992). What the first
 * plan gave a job before it knew of the others is mended so. Cars in the shop and what is fixed stay as they are. `onPart` is
 * called now and then, and at the end.
 */
export function reinsertEach(
  book: Book,
  inserter: JobInserter,
  bound: ShopBound,
  stop: () => boolean,
  onPart: () => void = () => {},
): void {
  const { tiers } = book.shop.problem;
  const before = new Float64Array(tiers.length);
  const after = new Float64Array(tiers.length);
  for (const j of jobByJob(stillToBePlanned(book), stop, onPart)) {
    book.objective(before);
    const limit = limitFrom(book.jobs[j]!, tiers, book.costs[j]!, bound.least[j]!);
    const old = book.withdraw(j);
    const plan = limit === null ? null : inserter.insert(j, { ...EFFORT, limit });
    if (plan !== null) {
      book.enter(j, plan);
      book.objective(after);
      if (compareTiers(after, before) < 0) continue;
      book.withdraw(j);
    }
    book.enter(j, old);
  }
}

/** The last to come first. */
function stillToBePlanned(book: Book): number[] {
  const order: number[] = [];
  for (const j of lastToComeFirst(book)) if (!book.jobs[j]!.inShop && !book.jobs[j]!.fixed) order.push(j);
  return order;
}
