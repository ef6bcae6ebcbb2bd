import type { Records } from '../../store/store.ts';
import { addDays, localDate } from '../../trade/calendar/local-instant.ts';
import { openHours } from '../../trade/calendar/open-hours.ts';
import { type AftercareTimes, aftercareTimes } from '../../trade/cure/aftercare-times.ts';
import type { ToldTimes } from '../../trade/model/customer-message.ts';
import type { JobId, ShopId } from '../../trade/model/ids.ts';
import type { Job, JobState } from '../../trade/model/job.ts';
import type { AddOn } from '../../trade/model/recipe.ts';
import type { Shop } from '../../trade/model/shop.ts';
import type { Instant } from '../../trade/model/time.ts';
import type { PanelName } from '../../trade/model/vehicle.ts';
import { whatHappened } from '../floor/what-happened.ts';
import { bookedPasses } from '../inspection/booked-passes.ts';
import { carName } from '../jobs/job-view.ts';
import { foundJob, foundShop } from '../records/found.ts';
import { laidLayers } from './laid-layers.ts';
import { isReady, type StageLine, stagesOf } from './stages.ts';

/** From when a car can be fetched, and until when that day somebody is there; null when that was arranged. */
export interface PickupWindow {
  readonly from: Instant;
  readonly until: Instant | null;
}

/** What the inspection asks of the customer. */
export interface ScopeQuestion {
  readonly answer: 'awaited' | 'approved' | 'declined' | 'defaulted';
  readonly answerBy: Instant;
  /** Machine passes that are proposed, or were settled on; and those the booking assumed. */
  readonly passes: number;
  readonly bookedPasses: number;
  /** In the shop's minor unit: with a yes, and with what was booked. */
  readonly priceMinor: number;
  readonly bookedPriceMinor: number;
  readonly sparedPanels: readonly PanelName[];
}

/**
 * One visit as its customer may see it: what was told and what is done, never what is only planned; nothing of other cars, of
 * who does the work, or of what the shop notes for itself.
 */
export interface Visit {
  readonly jobId: JobId;
  readonly shop: Pick<Shop, 'name' | 'timeZone' | 'currency' | 'toCustomers'>;
  readonly car: string;
  readonly service: { readonly name: string; readonly description: string; readonly addOns: readonly AddOn[] };
  readonly state: JobState;
  readonly heldUntil: Instant | null;
  readonly dropOffAt: Instant | null;
  readonly pickup: PickupWindow | null;
  /** Every drop-off and pickup told, the one that holds last. */
  readonly told: readonly ToldTimes[];
  readonly stages: readonly StageLine[];
  readonly ready: boolean;
  readonly priceMinor: number;
  readonly scope: ScopeQuestion | null;
  readonly aftercare: {
    readonly times: AftercareTimes | null;
    /** Some of the work they count from is still ahead. */
    readonly expected: boolean;
    readonly advice: readonly string[];
  };
  /** When the car left; null while it has not. */
  readonly leftAt: Instant | null;
}

/** Reads a visit. @throws NotFound */
export async function visitOf(
  records: Records,
  of: { readonly shopId: ShopId; readonly jobId: JobId },
  now: Instant,
): Promise<Visit> {
  const { shopId, jobId } = of;
  const shop = await foundShop(records, shopId);
  const { value: job } = await foundJob(records, shopId, jobId);
  const recipe = (await records.recipes.get(shopId, job.recipeId))!.value;
  const planned = (await records.plans.job(shopId, jobId))?.operations ?? [];
  const events = await records.floorEvents.listByJob(shopId, jobId);
  const happened = whatHappened(events, now);
  const { layers, expected } = await laidLayers(records, of, recipe, happened, planned);
  const last = events.reduce((latest, event) => Math.max(latest, event.occurredAt), 0) as Instant;
  return {
    jobId,
    shop,
    car: carName(job),
    service: { name: recipe.name, description: recipe.description, addOns: job.addOns },
    state: job.state,
    heldUntil: job.holdUntil,
    dropOffAt: job.dropOffAt,
    pickup: job.promise === null ? null : pickupWindow(shop, job, job.promise.pickupAt),
    told: await records.toldTimes.list(shopId, jobId),
    stages: job.state === 'inShop' ? stagesOf(planned, now) : [],
    ready: job.state === 'inShop' && isReady(planned, now),
    priceMinor: job.priceMinor,
    scope: scopeOf(job),
    aftercare: { times: aftercareTimes(layers), expected, advice: recipe.aftercare },
    leftAt: job.state === 'done' ? (happened.pickedUpAt ?? last) : null,
  };
}

function pickupWindow(shop: Shop, job: Job, from: Instant): PickupWindow {
  if (job.arranged?.pickupBy != null) return { from, until: null };
  const day = localDate(from, shop.timeZone);
  const days = { zone: shop.timeZone, from: day, to: addDays(day, 1) };
  const { open } = openHours(days, shop.hours, shop.exceptions);
  const span = open.find((each) => each.from <= from && from < each.to);
  return { from, until: (span?.to ?? null) as Instant | null };
}

function scopeOf(job: Job): ScopeQuestion | null {
  const { scope } = job;
  if (scope === null) return null;
  return {
    answer: scope.answer,
    answerBy: scope.answerBy,
    passes: scope.correctionPasses,
    bookedPasses: bookedPasses(job),
    priceMinor: scope.priceMinor,
    // A job's own price follows its scope once that is settled.
    bookedPriceMinor: job.priceMinor,
    sparedPanels: scope.sparedPanels ?? [],
  };
}
