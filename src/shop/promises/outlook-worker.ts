import { type PackedBook, unpackBook } from '../planning/packed-book.ts';
import { begins } from '../planning/thread-task.ts';
import { type PlanOutlook, planOutlook } from './plan-outlook.ts';

export interface OutlookTask {
  readonly book: PackedBook;
  readonly seed: number;
  readonly days?: number;
}

/** What runs in the worker thread. */
export default begins(({ book, seed, days }: OutlookTask): PlanOutlook => planOutlook(unpackBook(book), seed, days));
