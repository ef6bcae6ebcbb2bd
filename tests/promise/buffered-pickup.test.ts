import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { bufferedPickup, confidenceOf } from '../../src/promise/buffered-pickup.ts';
import { delayOf } from '../../src/promise/delay.ts';
import { afterOpenMinutes, openMinutesBetween } from '../../src/promise/open-time.ts';
import { Instant } from '../../src/trade/model/time.ts';
import { threePoint } from '../../src/trade/work-content/spread.ts';

const at = (text: string) => Instant.parse(Date.parse(text));
const days = [
  { from: at('2026-03-02T08:00Z'), to: at('2026-03-02T17:00Z') },
  { from: at('2026-03-03T08:00Z'), to: at('2026-03-03T17:00Z') },
];
const inputs = {
  delay: delayOf([threePoint(90, 120, 180)], 0),
  confidencePercent: 95,
  workSpans: days,
  pickupSpans: days,
  roundToMinutes: 15,
};

describe('a promised pickup', () => {
  test('lies at the end of the buffer, rounded up', () => {
    // Mean 125, deviation 15 (Malcolm et al. 1959): 5 + 1.645 x 15 = 29.7, so 30 minutes after 14:05 is 14:35.
    expect(bufferedPickup({ ...inputs, plannedReadyAt: at('2026-03-02T14:05Z') })?.pickupAt).toBe(
      at('2026-03-02T14:45Z'),
    );
  });

  test('moves to the next opening when the buffer runs past closing', () => {
    expect(bufferedPickup({ ...inputs, plannedReadyAt: at('2026-03-02T16:50Z') })?.pickupAt).toBe(
      at('2026-03-03T08:30Z'),
    );
  });

  test('is not given when the hours known do not reach so far', () => {
    expect(bufferedPickup({ ...inputs, plannedReadyAt: at('2026-03-03T16:55Z') })).toBeNull();
  });

  test('is never less sure than what was asked, and says how sure it is', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 17 * 60 }),
        fc.integer({ min: 50, max: 99 }),
        (minute, confidencePercent) => {
          const plannedReadyAt = Instant.parse(at('2026-03-02T08:00Z') + minute * 60_000);
          const pickup = bufferedPickup({ ...inputs, confidencePercent, plannedReadyAt });
          if (pickup === null) return;
          expect(pickup.confidencePercent).toBeGreaterThanOrEqual(confidencePercent - 0.05);
          expect(pickup.confidencePercent).toBe(confidenceOf(pickup.pickupAt, { ...inputs, plannedReadyAt }));
          expect(days.some((day) => pickup.pickupAt >= day.from && pickup.pickupAt < day.to)).toBe(true);
        },
      ),
      { seed: 20_260_302 },
    );
  });
});

describe('open time', () => {
  test('stands still overnight', () => {
    expect(openMinutesBetween(days, at('2026-03-02T16:30Z'), at('2026-03-03T08:15Z'))).toBe(45);
    expect(afterOpenMinutes(days, at('2026-03-02T16:30Z'), 45)).toBe(at('2026-03-03T08:15Z'));
  });

  test('counts backwards when the second instant comes first', () => {
    expect(openMinutesBetween(days, at('2026-03-02T10:00Z'), at('2026-03-02T09:00Z'))).toBe(-60);
  });
});
