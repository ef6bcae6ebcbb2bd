import type { ConditionsReading } from '../model/readings.ts';
import type { AirConditions } from '../model/shop.ts';
import type { Instant } from '../model/time.ts';
import { READING_BINDS_MINUTES } from './judge-reading.ts';

/** Expected conditions from `at` until the next entry. */
export interface ExpectedConditions {
  readonly at: Instant;
  readonly conditions: AirConditions;
  readonly source: ConditionsReading['source'] | 'setPoint';
  /** Planned on a set point or a monthly normal more than 48 h ahead: to be judged again when nearer. */
  readonly provisional: boolean;
}

const MS_PER_MINUTE = 60_000;
/** A forecast entry holds until the next one, at most this long; common practice, forecasts come three-hourly. */
const FORECAST_HOLDS_MINUTES = 180;
/** A monthly normal holds until the next one. */
const NORMAL_HOLDS_MINUTES = 31 * 24 * 60;
/** Plans bind within this time. */
export const BINDING_MINUTES = 48 * 60;

const holdsMinutes = {
  measured: READING_BINDS_MINUTES,
  forecast: FORECAST_HOLDS_MINUTES,
  normal: NORMAL_HOLDS_MINUTES,
} as const;
const rank = { measured: 2, forecast: 1, normal: 0 } as const;

/**
 * What the air of one zone is expected to be from `now` on: measured while it binds, then forecast, then monthly
 * normal, and the bay's set point where there is nothing better. A newer entry of the same source outranks an older one.
 */
export function conditionsOverTime(
  setPoint: AirConditions,
  readings: readonly ConditionsReading[],
  now: Instant,
): ExpectedConditions[] {
  const bindingUntil = now + BINDING_MINUTES * MS_PER_MINUTE;
  const spans = readings
    .map((reading) => ({
      reading,
      from: reading.at as number,
      to: reading.at + holdsMinutes[reading.source] * MS_PER_MINUTE,
    }))
    .filter((span) => span.to > now);
  const edges = [now as number, bindingUntil, ...spans.flatMap((span) => [span.from, span.to])]
    .filter((edge) => edge >= now)
    .sort((a, b) => a - b);
  const steps: ExpectedConditions[] = [];
  for (const at of new Set(edges)) {
    const best = spans
      .filter((span) => span.from <= at && at < span.to)
      .sort((a, b) => rank[b.reading.source] - rank[a.reading.source] || b.from - a.from)
      .at(0)?.reading;
    const source = best?.source ?? 'setPoint';
    const conditions = best ? conditionsOf(best) : setPoint;
    const provisional = at >= bindingUntil && (source === 'normal' || source === 'setPoint');
    const last = steps.at(-1);
    if (last && last.source === source && last.provisional === provisional && same(last.conditions, conditions))
      continue;
    steps.push({ at: at as Instant, conditions, source, provisional });
  }
  return steps;
}

/** A panel's temperature measured on one car says nothing of the panels of another. */
const conditionsOf = (reading: ConditionsReading): AirConditions => ({
  airTempC: reading.airTempC,
  relativeHumidityPercent: reading.relativeHumidityPercent,
  ...(reading.panelTempC === null || reading.jobId !== null ? {} : { panelTempC: reading.panelTempC }),
});

const same = (a: AirConditions, b: AirConditions): boolean =>
  a.airTempC === b.airTempC && a.relativeHumidityPercent === b.relativeHumidityPercent && a.panelTempC === b.panelTempC;
