import type { JobId, ShopId } from '../../trade/model/ids.ts';
import type { Instant } from '../../trade/model/time.ts';
import type { PlanningDeps } from '../deps.ts';
import { carName } from '../jobs/job-view.ts';
import { foundShop } from '../records/found.ts';
import { raiseException } from '../records/raise-exception.ts';
import { tell } from '../records/tell.ts';
import { openingSpans, probabilityReadyBy } from './outlook-of.ts';

export interface PromiseOutlook {
  readonly jobId: JobId;
  readonly car: string;
  readonly customer: string;
  readonly promisedPickupAt: Instant;
  readonly plannedReadyAt: Instant;
  /** Minutes from planned ready time to the promise; negative when late. */
  readonly slackMinutes: number;
  /** Probability that the car is ready by the promise, in percent, as of now. */
  readonly probabilityPercent: number;
  /** Below the shop's confidence, or late. */
  readonly atRisk: boolean;
}

/** Every promise still to be kept, most endangered first. @throws NotFound (shop) */
export async function promiseOutlook(
  deps: Pick<PlanningDeps, 'store' | 'clock'>,
  input: { shopId: ShopId },
): Promise<readonly PromiseOutlook[]> {
  const { shopId } = input;
  const now = deps.clock();
  const shop = await foundShop(deps.store, shopId);
  const plan = await deps.store.plans.current(shopId);
  if (plan === null) return [];
  const jobs = (await deps.store.jobs.listOpen(shopId)).map((each) => each.value);
  const ends = plan.jobs.map((each) => each.readyAt).concat(jobs.flatMap((job) => job.promise?.pickupAt ?? []));
  const spans = openingSpans(shop, now, Math.max(now, ...ends) as Instant);
  const outlooks: PromiseOutlook[] = [];
  for (const job of jobs) {
    const planned = plan.jobs.find((each) => each.jobId === job.id);
    if (job.promise === null || planned === undefined) continue;
    const operations = plan.operations.filter((each) => each.jobId === job.id);
    const promised = job.promise.pickupAt;
    const probability = probabilityReadyBy(promised, planned, operations, shop, spans, now);
    outlooks.push({
      jobId: job.id,
      car: carName(job),
      customer: job.customer.name,
      promisedPickupAt: promised,
      plannedReadyAt: planned.readyAt,
      slackMinutes: Math.floor((promised - planned.readyAt) / 60_000),
      probabilityPercent: probability,
      atRisk: planned.lateMinutes > 0 || planned.readyAt > promised || probability < shop.promiseConfidencePercent,
    });
  }
  return outlooks.sort((a, b) => a.probabilityPercent - b.probabilityPercent || a.slackMinutes - b.slackMinutes);
}

/** Warns once about each promise that has come to be at risk; returns the new warnings. */
export async function warnOfRisks(
  deps: Pick<PlanningDeps, 'store' | 'clock'>,
  input: { shopId: ShopId },
): Promise<readonly PromiseOutlook[]> {
  const { shopId } = input;
  const risky = (await promiseOutlook(deps, input)).filter((each) => each.atRisk);
  const fresh: PromiseOutlook[] = [];
  for (const outlook of risky) {
    const now = deps.clock();
    const isNew = await deps.store.transaction(shopId, async (records) => {
      const raised = await raiseException(records, shopId, now, {
        kind: 'promiseAtRisk',
        jobId: outlook.jobId,
        cause: String(outlook.promisedPickupAt),
        text: `${outlook.car}: the promise is at risk, ready in time with ${outlook.probabilityPercent} %.`,
      });
      if (raised) await tell(records, shopId, now, 'promise.atRisk', outlook.jobId, { ...outlook });
      return raised;
    });
    if (isNew) fresh.push(outlook);
  }
  return fresh;
}
