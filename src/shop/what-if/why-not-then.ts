import { addDays, localDate } from '../../trade/calendar/local-instant.ts';
import { openHours } from '../../trade/calendar/open-hours.ts';
import type { Book } from '../../trade/formulate/book.ts';
import type { TechnicianId } from '../../trade/model/ids.ts';
import type { Plan, PlannedOperation } from '../../trade/model/plan.ts';
import type { Instant } from '../../trade/model/time.ts';
import type { Objection } from '../problems/shop-problem.ts';
import { localClock } from './local-clock.ts';

/**
 * Why work cannot begin at an hour, read from the plan as it is without that: what comes before it is not done by then, or
 * whoever is asked for, or everybody, is not at work. Null when it is neither.
 */
export function whyNotThen(
  book: Book,
  plan: Plan,
  planned: PlannedOperation,
  startAt: Instant,
  personId: TechnicianId | null,
): Objection | null {
  const before = plan.operations
    .filter((each) => each.jobId === planned.jobId && each.kind !== 'move')
    .filter((each) => each.start < planned.start && each.end > startAt)
    .reduce<PlannedOperation | null>((last, each) => (last === null || each.end > last.end ? each : last), null);
  if (before !== null) {
    const text = `"${before.label}" comes before it and is planned until ${localClock(before.end, book.shop)}.`;
    return { rule: 'order', field: 'startAt', text };
  }
  const wanted = book.technicians.filter(({ id }) => personId === null || id === personId);
  if (planned.people.length > 0 && wanted.every((person) => !isAtWork(book, person, startAt))) {
    const at = localClock(startAt, book.shop);
    const text =
      personId === null ? `Nobody is at work at ${at}.` : `${wanted[0]?.name ?? personId} is not at work at ${at}.`;
    return { rule: 'hours', field: 'startAt', text };
  }
  return null;
}

function isAtWork({ shop }: Book, { shifts, exceptions }: Book['technicians'][number], at: Instant): boolean {
  const from = localDate(at, shop.timeZone);
  const { open } = openHours({ zone: shop.timeZone, from, to: addDays(from, 1) }, shifts, exceptions);
  return open.some((part) => part.from <= at && part.to > at);
}
