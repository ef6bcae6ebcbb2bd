import type { Book } from '../../trade/formulate/book.ts';
import { type PlanOutlook, planOutlook } from './plan-outlook.ts';

/** What runs in the worker thread. */
export default function outlookTask({ book, seed }: { readonly book: Book; readonly seed: number }): PlanOutlook {
  return planOutlook(book, seed);
}
