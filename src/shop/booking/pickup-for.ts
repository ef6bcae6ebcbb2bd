import { CarForecast, type CarOutlook } from '../../promise/outlook/car-outlook.ts';
import type { Formulation } from '../../trade/formulate/formulation.ts';
import type { JobId } from '../../trade/model/ids.ts';
import type { PickupPromise } from '../../trade/model/job.ts';
import type { Instant } from '../../trade/model/time.ts';
import type { DraftPlan } from '../planning/draft-plan.ts';
import { amongNeighbours } from '../promises/part-of-formulation.ts';

/** A car in a plan that is not published yet. */
export type Planned = Pick<DraftPlan, 'book' | 'formulation' | 'schedule'>;

/** A pickup that could be promised, and how sure it is. */
export type SurePickup = Omit<PickupPromise, 'givenAt'>;

/** What may be said of a car's pickup in one plan. */
export interface PickupOutlook {
  /** The earliest pickup as sure as the shop promises; null when the hours known end before. */
  readonly earliest: SurePickup | null;
  /** By then it is ready as surely as the shop promises, whether anybody could come for it or not. */
  readonly sureReadyAt: Instant;
  /** How sure a pickup is. */
  at(pickupAt: Instant): SurePickup;
}

/** What may be said of it at a first look, and in the end; each is found out when it is asked for. */
export interface PickupForecast {
  readonly rough: PickupOutlook;
  readonly whole: PickupOutlook;
}

/** Simulates a car of a drafted plan among its neighbours; null when it is not in the plan. */
export function pickupForecast({ book, formulation, schedule }: Planned, jobId: JobId): PickupForecast | null {
  const index = formulation.jobIndex(jobId);
  if (index === undefined) return null;
  const part = amongNeighbours(formulation, schedule, index);
  if (part === null) return null;
  const forecast = new CarForecast(book, part.formulation, part.schedule, part.job);
  return {
    get rough() {
      return asPickups(book, formulation, forecast.rough);
    },
    get whole() {
      return asPickups(book, formulation, forecast.whole);
    },
  };
}

function asPickups({ learned, shop }: Planned['book'], formulation: Formulation, outlook: CarOutlook): PickupOutlook {
  const { axis, problem } = formulation;
  const known = (minute: number) => axis.toInstant(Math.min(minute, problem.horizon));
  const medianReadyAt = known(outlook.medianReady);
  const confidence = shop.promiseConfidencePercent / 100;
  const spreadFactor = learned?.spreadFactor ?? 1;
  const at = (pickupAt: Instant): SurePickup => {
    const confidencePercent = Math.round(outlook.readyBy(axis.toMinute(pickupAt, 'floor')) * 1000) / 10;
    return { pickupAt, confidencePercent, medianReadyAt, spreadFactor };
  };
  const earliest = outlook.earliest(confidence);
  return {
    earliest: earliest === null ? null : at(axis.toInstant(earliest)),
    sureReadyAt: known(outlook.readyWith(confidence)),
    at,
  };
}

/** What may be said of a car's pickup; null when it is not in the plan. */
export function pickupOutlook(planned: Planned, jobId: JobId): PickupOutlook | null {
  return pickupForecast(planned, jobId)?.whole ?? null;
}

const QUARTER_MS = 15 * 60_000;

/** Pickups are told on the quarter hour; common practice. */
export const onTheQuarter = (at: Instant): Instant => (Math.ceil(at / QUARTER_MS) * QUARTER_MS) as Instant;

/** The earliest pickup that may be promised for a car of a drafted plan; null when the hours known end before. */
export function pickupFor(draft: Planned, jobId: JobId): SurePickup | null {
  return pickupOutlook(draft, jobId)?.earliest ?? null;
}
