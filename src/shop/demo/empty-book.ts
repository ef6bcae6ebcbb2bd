import type { Book, ShopData } from '../../trade/formulate/book.ts';
import type { Instant } from '../../trade/model/time.ts';
import { PLAN_DAYS } from '../planning/load-book.ts';

/** The book of a shop that nobody has booked at yet. */
export function emptyBook(data: ShopData, now: Instant): Book {
  return { ...data, jobs: [], events: [], readings: [], previousPlan: null, now, horizonDays: PLAN_DAYS };
}
