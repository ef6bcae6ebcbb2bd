import type { Interval } from '../../engine/problem/problem.ts';
import type { Instant } from '../model/time.ts';

const minuteMs = 60_000;

/**
 * The engine's minutes, counted from an epoch. Minutes are elapsed minutes: a day on which the clocks change has
 * 1380 or 1500 of them, and an instant has one minute whatever the clock on the wall says.
 */
export interface Axis {
  readonly epoch: Instant;
  /** `floor`: the minute an instant lies in (facts). `ceil`: the first whole minute not before it (what is to come). */
  toMinute(at: Instant, rounding: 'floor' | 'ceil'): number;
  toInstant(minute: number): Instant;
  /** Hours as minutes: rounded inwards, what lies before the epoch cut off. */
  toIntervals(spans: readonly Interval[]): Interval[];
}

/** @throws RangeError when the epoch is no whole minute. */
export function makeAxis(epoch: Instant): Axis {
  return new MinutesSince(epoch);
}

class MinutesSince implements Axis {
  readonly epoch: Instant;

  constructor(epoch: Instant) {
    if (epoch % minuteMs !== 0) throw new RangeError(`epoch ${epoch} is not a whole minute`);
    this.epoch = epoch;
  }

  toMinute(at: Instant, rounding: 'floor' | 'ceil'): number {
    const minutes = (at - this.epoch) / minuteMs;
    return rounding === 'floor' ? Math.floor(minutes) : Math.ceil(minutes);
  }

  toInstant(minute: number): Instant {
    return (this.epoch + minute * minuteMs) as Instant;
  }

  toIntervals(spans: readonly Interval[]): Interval[] {
    const intervals: Interval[] = [];
    for (const span of spans) {
      const from = Math.max(0, this.toMinute(span.from as Instant, 'ceil'));
      const to = this.toMinute(span.to as Instant, 'floor');
      if (from < to) intervals.push({ from, to });
    }
    return intervals;
  }
}
