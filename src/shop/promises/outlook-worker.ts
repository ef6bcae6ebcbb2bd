import type { Book } from '../../trade/formulate/book.ts';
import { type PlanOutlook, planOutlook } from './plan-outlook.ts';

export interface OutlookTask {
  readonly book: Book;
  readonly seed: number;
  readonly days?: number;
}

/** What runs in the worker thread. */
export default function outlookTask({ book, seed, days }: OutlookTask): PlanOutlook {
  return planOutlook(book, seed, days);
}
