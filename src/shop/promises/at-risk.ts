import type { Records, Store, Versioned } from '../../store/store.ts';
import type { DeskException } from '../../trade/model/desk-exception.ts';
import type { JobId, ShopId } from '../../trade/model/ids.ts';
import type { Job } from '../../trade/model/job.ts';
import type { PlannedJob } from '../../trade/model/plan.ts';
import type { Instant } from '../../trade/model/time.ts';
import type { PlanningDeps } from '../deps.ts';
import { carName } from '../jobs/job-view.ts';
import { foundShop } from '../records/found.ts';
import { raiseExceptions, type ToRaise } from '../records/raise-exception.ts';
import { tell } from '../records/tell.ts';
import type { CarForecast } from './plan-outlook.ts';
import type { PromiseOutlook } from './promise-views.ts';
import { standingOutlook } from './standing-outlook.ts';

/** A promise so many percent points less sure than the shop promises is at risk; */
export const AT_RISK_POINTS = 10;
/** and it is until it is so near again: a promise that hovers about one line would be told of again and again. */
const SAFE_AGAIN_POINTS = 3;

type OutlookDeps = Pick<PlanningDeps, 'store' | 'clock' | 'outlooks' | 'seed'>;

/** Every promise still to be kept, most endangered first. @throws NotFound (shop), Busy */
export async function promiseOutlook(deps: OutlookDeps, input: { shopId: ShopId }): Promise<readonly PromiseOutlook[]> {
  const { shopId } = input;
  await foundShop(deps.store, shopId);
  const { standing, outlook } = await standingOutlook(deps, shopId);
  const { shop, jobs, previousPlan } = standing.book;
  const forecasts = new Map(outlook.cars.map((car) => [car.jobId, car]));
  const planned = new Map(previousPlan?.jobs.map((each) => [each.jobId, each]));
  const warnings = await warningsOf(deps.store, shopId, jobs);
  const outlooks = jobs.flatMap((job): PromiseOutlook[] => {
    const plan = planned.get(job.id);
    if (job.promise === null || plan === undefined) return [];
    const line = shop.promiseConfidencePercent - (warnings.get(job.id)?.open ? SAFE_AGAIN_POINTS : AT_RISK_POINTS);
    return [outlookOn({ ...job, promise: job.promise }, plan, forecasts.get(job.id), line)];
  });
  return outlooks.sort((a, b) => a.probabilityPercent - b.probabilityPercent || a.slackMinutes - b.slackMinutes);
}

function outlookOn(
  job: Job & { readonly promise: NonNullable<Job['promise']> },
  { readyAt, lateMinutes }: PlannedJob,
  forecast: CarForecast | undefined,
  line: number,
): PromiseOutlook {
  const { pickupAt, confidencePercent } = job.promise;
  // A car booked a moment ago has not been simulated with the others yet.
  const probabilityPercent = forecast?.probabilityPercent ?? confidencePercent;
  return {
    jobId: job.id,
    car: carName(job),
    customer: job.customer.name,
    promisedPickupAt: pickupAt,
    givenPercent: confidencePercent,
    plannedReadyAt: readyAt,
    medianReadyAt: forecast?.medianReadyAt ?? readyAt,
    surelyReadyAt: forecast?.surelyReadyAt ?? readyAt,
    slackMinutes: Math.floor((pickupAt - readyAt) / 60_000),
    probabilityPercent,
    atRisk: lateMinutes > 0 || probabilityPercent < line,
    blame: forecast?.blame ?? { operations: [], resources: [] },
  };
}

/** What the desk has been told of one car's promise. */
interface Warnings {
  /** The one that still holds: the promise is the same, and the risk has not passed. */
  readonly open: Versioned<DeskException> | null;
  readonly count: number;
}

async function warningsOf(store: Store, shopId: ShopId, jobs: readonly Job[]): Promise<Map<JobId, Warnings>> {
  const givenAt = new Map(jobs.map((job) => [job.id, job.promise?.givenAt]));
  const warnings = new Map<JobId, Warnings>();
  for (const each of await store.deskExceptions.list(shopId)) {
    const { kind, jobId, passedAt, raisedAt } = each.value;
    if (kind !== 'promiseAtRisk' || jobId === null) continue;
    const { open, count } = warnings.get(jobId) ?? { open: null, count: 0 };
    const given = givenAt.get(jobId);
    const holds = passedAt === undefined && given !== undefined && raisedAt >= given;
    warnings.set(jobId, { open: holds ? each : open, count: count + 1 });
  }
  return warnings;
}

/**
 * Warns once about each promise that has come to be at risk, and again only after the risk had passed; returns the new
 * warnings. @throws NotFound (shop), Busy
 */
export async function warnOfRisks(deps: OutlookDeps, input: { shopId: ShopId }): Promise<readonly PromiseOutlook[]> {
  const { shopId } = input;
  const outlooks = await promiseOutlook(deps, input);
  const { standing } = await standingOutlook(deps, shopId);
  const warnings = await warningsOf(deps.store, shopId, standing.book.jobs);
  const crossed = outlooks.filter(({ jobId, atRisk }) => atRisk !== (warnings.get(jobId)?.open != null));
  if (crossed.length === 0) return [];
  const now = deps.clock();
  return deps.store.transaction(shopId, async (records) => {
    const passed = crossed.filter(({ atRisk }) => !atRisk);
    for (const outlook of passed) await riskPassed(records, shopId, now, warnings.get(outlook.jobId)!.open!, outlook);
    const risen = crossed.filter(({ atRisk }) => atRisk);
    const toRaise = new Map(
      risen.map((outlook) => [warningOf(outlook, warnings.get(outlook.jobId)?.count ?? 0), outlook]),
    );
    const raised = await raiseExceptions(records, shopId, now, [...toRaise.keys()]);
    const fresh = [...raised].map((warning) => toRaise.get(warning)!);
    for (const outlook of fresh) await tell(records, shopId, now, 'promise.atRisk', outlook.jobId, { ...outlook });
    return fresh;
  });
}

/** @param before how often the desk was warned about this car: of two servers one warns. */
function warningOf(outlook: PromiseOutlook, before: number): ToRaise {
  const { jobId, promisedPickupAt, car, probabilityPercent } = outlook;
  return {
    kind: 'promiseAtRisk',
    jobId,
    cause: `${promisedPickupAt} ${before}`,
    text: `${car}: the promise is at risk, ready in time with ${probabilityPercent} %. ${why(outlook)}`.trim(),
  };
}

async function riskPassed(
  records: Records,
  shopId: ShopId,
  now: Instant,
  { value, version }: Versioned<DeskException>,
  { jobId, probabilityPercent }: PromiseOutlook,
): Promise<void> {
  await records.deskExceptions.put(shopId, { ...value, passedAt: now }, version);
  await tell(records, shopId, now, 'promise.safeAgain', jobId, { probabilityPercent });
}

/** What is to blame first, in a sentence. */
function why({ jobId, blame }: PromiseOutlook): string {
  const [operation] = blame.operations;
  const [resource] = blame.resources;
  if (operation !== undefined && operation.overrunMinutes > 0) {
    const whose = operation.jobId === jobId ? '' : ` on ${operation.car}`;
    return `When it is late, ${operation.label}${whose} took ${operation.overrunMinutes} minutes longer than planned.`;
  }
  if (resource === undefined) return '';
  return resource.name === ''
    ? 'When it is late, it waits for working hours.'
    : `When it is late, it waits for ${resource.name}.`;
}
