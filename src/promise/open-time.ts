import { Instant } from '../trade/model/time.ts';

/** Half-open stretch of open time. */
export interface OpenSpan {
  readonly from: Instant;
  readonly to: Instant;
}

const MINUTE = 60_000;

/** The instant at which `minutes` of open time have passed since `from`; null when the spans end before. Spans are in order. */
export function afterOpenMinutes(spans: readonly OpenSpan[], from: Instant, minutes: number): Instant | null {
  if (minutes <= 0) return from;
  let left = minutes * MINUTE;
  for (const span of spans) {
    const start = Math.max(span.from, from);
    const length = span.to - start;
    if (length <= 0) continue;
    if (length >= left) return Instant.parse(start + left);
    left -= length;
  }
  return null;
}

/** Whole minutes of open time between two instants; negative when `to` comes first. */
export function openMinutesBetween(spans: readonly OpenSpan[], from: Instant, to: Instant): number {
  if (to < from) return -openMinutesBetween(spans, to, from);
  let open = 0;
  for (const span of spans) open += Math.max(0, Math.min(span.to, to) - Math.max(span.from, from));
  return Math.floor(open / MINUTE);
}

/** The first open instant at or after `from`; null when the spans end before. */
export function firstOpen(spans: readonly OpenSpan[], from: Instant): Instant | null {
  for (const span of spans) {
    if (span.to > from) return span.from > from ? span.from : from;
  }
  return null;
}
