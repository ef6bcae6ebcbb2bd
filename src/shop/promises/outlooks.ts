import type { Book } from '../../trade/formulate/book.ts';
import type { PlanningDeps } from '../deps.ts';
import { withLessons } from './floor-lessons.ts';
import { type PlanOutlook, planOutlook } from './plan-outlook.ts';

/** Simulates whole plans somewhere else than on the thread that serves requests. */
export interface Outlooks {
  /** As `planOutlook`, of the plan that stands in the book. @throws Busy when no answer came in time */
  of(book: Book, days?: number): Promise<PlanOutlook>;
}

/** The plan that stands in a book, carried out many times with what the floor has taught. @throws Busy */
export async function outlookOf(
  deps: Pick<PlanningDeps, 'store' | 'outlooks' | 'seed'>,
  book: Book,
  days?: number,
): Promise<PlanOutlook> {
  const taught = await withLessons(deps.store, book);
  return deps.outlooks?.of(taught, days) ?? planOutlook(taught, deps.seed, days);
}
