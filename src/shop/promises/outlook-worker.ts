import { type PackedBook, unpackBook } from '../planning/packed-book.ts';
import { type PlanOutlook, planOutlook } from './plan-outlook.ts';

export interface OutlookTask {
  readonly book: PackedBook;
  readonly seed: number;
  readonly days?: number;
}

/** What runs in the worker thread. */
export default function outlookTask({ book, seed, days }: OutlookTask): PlanOutlook {
  return planOutlook(unpackBook(book), seed, days);
}
