import { DateTime } from 'luxon';
import type { Book } from '../../trade/formulate/book.ts';
import type { Job } from '../../trade/model/job.ts';
import type { Instant } from '../../trade/model/time.ts';
import type { Objection } from '../problems/shop-problem.ts';
import { openingSpans } from '../promises/opening-spans.ts';

/**
 * Why a car cannot come, or go, at an instant: outside opening hours only into, or from, the hands of a person named for
 * it. Null when it can.
 */
export function closedAt(book: Book, job: Job, edge: 'dropOffAt' | 'pickupAt', at: Instant): Objection | null {
  const named = edge === 'dropOffAt' ? job.arranged?.dropOffBy : job.arranged?.pickupBy;
  if (named != null) return null;
  const open = openingSpans(book.shop, book.now, at).some((span) => span.from <= at && at < span.to);
  if (open) return null;
  const when = DateTime.fromMillis(at, { zone: book.shop.timeZone }).setLocale('en').toFormat('cccc yyyy-MM-dd HH:mm');
  const what = edge === 'dropOffAt' ? 'take the car in' : 'hand the car over';
  return { rule: 'closed', field: edge, text: `The shop is closed on ${when}, and nobody is named to ${what}.` };
}
