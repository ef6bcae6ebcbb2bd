import { confidenceOf } from '../../promise/buffered-pickup.ts';
import { delayOf } from '../../promise/delay.ts';
import { chainTo } from '../../promise/job-chain.ts';
import type { OpenSpan } from '../../promise/open-time.ts';
import { addDays, localDate } from '../../trade/calendar/local-instant.ts';
import { openHours } from '../../trade/calendar/open-hours.ts';
import type { PlannedJob, PlannedOperation } from '../../trade/model/plan.ts';
import type { Shop } from '../../trade/model/shop.ts';
import type { Instant } from '../../trade/model/time.ts';

/** Days beyond which no pickup is promised; hours are expanded as far. */
export const HORIZON_DAYS = 60;

/** The shop's opening hours from a day before `now`, as far as promises reach. */
export function openingSpans(shop: Shop, now: Instant, days: number = HORIZON_DAYS): OpenSpan[] {
  const today = localDate(now, shop.timeZone);
  const stretch = { zone: shop.timeZone, from: addDays(today, -1), to: addDays(today, days) };
  return openHours(stretch, shop.hours, shop.exceptions).open as unknown as OpenSpan[];
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
