import { confidenceOf } from '../../promise/buffered-pickup.ts';
import { delayOf } from '../../promise/delay.ts';
import { chainTo } from '../../promise/job-chain.ts';
import type { OpenSpan } from '../../promise/open-time.ts';
import { addDays, localDate } from '../../trade/calendar/local-instant.ts';
import { openHours } from '../../trade/calendar/open-hours.ts';
import type { PlannedJob, PlannedOperation } from '../../trade/model/plan.ts';
import type { Shop } from '../../trade/model/shop.ts';
import type { Instant } from '../../trade/model/time.ts';

/** Opening hours are laid out so far past the last instant that matters: a buffer may run over a holiday. */
const PAST_LAST_DAYS = 21;

/** The shop's opening hours from the day before `now` until three weeks after `last`. */
export function openingSpans(shop: Shop, now: Instant, last: Instant): OpenSpan[] {
  const from = addDays(localDate(now, shop.timeZone), -1);
  const to = addDays(localDate(Math.max(now, last) as Instant, shop.timeZone), PAST_LAST_DAYS);
  return openHours({ zone: shop.timeZone, from, to }, shop.hours, shop.exceptions).open as unknown as OpenSpan[];
}

/** Probability, in percent, that a planned car is ready by an instant, as things stand now. */
export function probabilityReadyBy(
  by: Instant,
  planned: PlannedJob,
  operations: readonly PlannedOperation[],
  shop: Shop,
  workSpans: readonly OpenSpan[],
  now: Instant,
): number {
  const passed = operations.some((each) => each.kind === 'finalInspection' && each.state === 'finished');
  const reworkPercent = passed ? 0 : shop.finalInspectionFailurePercent;
  const delay = delayOf(chainTo(planned.readyAt, operations, now), reworkPercent);
  return confidenceOf(by, { plannedReadyAt: planned.readyAt, delay, workSpans });
}
