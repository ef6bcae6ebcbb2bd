import type { DataSheet } from '../model/coating.ts';
import type { AirConditions } from '../model/shop.ts';
import type { Instant } from '../model/time.ts';
import { safeTimes } from './safe-times.ts';

/** A layer on a car, and the air it may cure in: the room's, and what waits outside. */
export interface LaidLayer {
  readonly sheet: DataSheet;
  /** When laying it was finished, or is planned to be. */
  readonly laidAt: Instant;
  readonly air: readonly [AirConditions, ...AirConditions[]];
}

/** What a customer keeps to after pickup, each at the full hour after. */
export interface AftercareTimes {
  /** Rain and water off every coated surface: the last layer's water-safe time. */
  readonly dryUntil: Instant;
  /** First wash: 7 to 14 days, common practice; never before it is water-safe. */
  readonly noWashUntil: Instant;
  readonly betterNoWashUntil: Instant;
  /** Until then no washing machine, no strong cleaner, no polish: the last full cure. */
  readonly fullyCuredAt: Instant;
}

const MINUTE_MS = 60_000;
const HOUR_MS = 60 * MINUTE_MS;
const DAY_MS = 24 * HOUR_MS;
const FIRST_WASH_DAYS = 7;
const BETTER_FIRST_WASH_DAYS = 14;

/** Times to keep to for a car with these layers; the slowest air and the last layer count. Null without any. */
export function aftercareTimes(layers: readonly LaidLayer[]): AftercareTimes | null {
  if (layers.length === 0) return null;
  const latest = (item: 'waterSafeMinutes' | 'fullCureMinutes') =>
    Math.max(
      ...layers.flatMap(({ sheet, laidAt, air }) =>
        air.map((conditions) => laidAt + safeTimes(sheet, conditions)[item] * MINUTE_MS),
      ),
    );
  const lastLaid = Math.max(...layers.map((layer) => layer.laidAt));
  const dryUntil = latest('waterSafeMinutes');
  return {
    dryUntil: nextHour(dryUntil),
    noWashUntil: nextHour(Math.max(dryUntil, lastLaid + FIRST_WASH_DAYS * DAY_MS)),
    betterNoWashUntil: nextHour(Math.max(dryUntil, lastLaid + BETTER_FIRST_WASH_DAYS * DAY_MS)),
    fullyCuredAt: nextHour(latest('fullCureMinutes')),
  };
}

function nextHour(at: number): Instant {
  return (Math.ceil(at / HOUR_MS) * HOUR_MS) as Instant;
}
