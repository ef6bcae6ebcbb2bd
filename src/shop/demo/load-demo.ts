import { addDays, dayStart, localDate } from '../../trade/calendar/local-instant.ts';
import { openHours } from '../../trade/calendar/open-hours.ts';
import { demoBook } from '../../trade/demo/demo-book.ts';
import type { Book } from '../../trade/formulate/book.ts';
import { JobId, type ShopId } from '../../trade/model/ids.ts';
import type { FloorEvent, Job } from '../../trade/model/job.ts';
import type { Plan } from '../../trade/model/plan.ts';
import type { Shop } from '../../trade/model/shop.ts';
import type { Instant } from '../../trade/model/time.ts';
import { BookingRequest } from '../booking/booking-request.ts';
import { draftJob } from '../booking/draft-job.ts';
import type { PlanningDeps } from '../deps.ts';
import { noteToldTimes } from '../messages/told-times.ts';
import { type DraftPlan, draftPlan } from '../planning/draft-plan.ts';
import { PLAN_DAYS } from '../planning/load-book.ts';
import { publish } from '../planning/publish.ts';
import { replan } from '../planning/replan.ts';
import { type CarForecast, planOutlook } from '../promises/plan-outlook.ts';
import { asIfItHappened } from './as-if-it-happened.ts';
import { readDemo } from './demo-data.ts';
import { putShopData, type ShopData } from './put-shop-data.ts';

/** Working days that lie behind when the demo opens, so that today finds cars in every state. */
const DAYS_BEHIND = 2;

/** Rounds in which customers are told a later pickup; each costs a plan, and the demo is to be there in a few seconds. */
const MOST_ROUNDS = 8;
const QUARTER_MS = 15 * 60_000;

/**
 * Loads the invented demo shop into an empty database; into any other, and the second time, it does nothing. Its
 * book is planned as a whole as of two working days ago, what that plan says has happened is told as facts, and the rest is
 * planned again from now.
 */
export async function loadDemo(deps: PlanningDeps): Promise<{ shopId: ShopId; loaded: boolean; jobs: number }> {
  const demo = await readDemo();
  const { shop } = demo;
  if ((await deps.store.shops.list()).length > 0) return { shopId: shop.id, loaded: false, jobs: 0 };
  const now = deps.clock();
  const then = openingBefore(shop, now, DAYS_BEHIND);
  const { jobs, tight } = bookedJobs(deps, demo, then);
  const planned = await promisedBook(deps, { ...emptyBook(demo, then), jobs }, tight);
  const facts = asIfItHappened(planned.draft.plan, now);
  const events = facts.map(
    ({ jobId, occurredAt, fact }, index): Omit<FloorEvent, 'sequence'> => ({
      jobId,
      clientId: `demo-fact-${index}`,
      occurredAt,
      recordedAt: occurredAt,
      fact,
    }),
  );
  await deps.store.transaction(shop.id, async (records) => {
    await putShopData(records, demo);
    for (const job of planned.jobs) {
      const { value } = await records.jobs.put(shop.id, stateBy(job, events), 'new');
      await noteToldTimes(records, shop.id, value, then);
    }
    for (const event of events) await records.floorEvents.append(shop.id, event);
  });
  const asPlannedThen = { ...planned.draft.plan, version: 0, jobs: keptNow(planned.draft.plan) };
  const open = planned.jobs.filter((job) => stateBy(job, events).state !== 'done');
  await publish(
    deps.store,
    { shopId: shop.id, plan: withOnly(asPlannedThen, open), expectedVersion: 0, jobs: open, exceptions: [] },
    now,
  );
  await replan(deps, { shopId: shop.id, reason: 'demo' });
  return { shopId: shop.id, loaded: true, jobs: planned.jobs.length };
}

/** Every promise was told from this plan, so that it keeps them all. */
function keptNow(plan: Plan): Plan['jobs'] {
  return plan.jobs.map((each) => ({ ...each, lateMinutes: 0 }));
}

function withOnly(plan: Plan, jobs: readonly Job[]): Plan {
  const open = new Set(jobs.map((job) => job.id));
  return {
    ...plan,
    operations: plan.operations.filter((each) => open.has(each.jobId)),
    stays: plan.stays.filter((each) => open.has(each.jobId)),
    jobs: plan.jobs.filter((each) => open.has(each.jobId)),
  };
}

/** Opening time of the last day but some on which the shop was open, today's not counted unless it is open. */
function openingBefore(shop: Shop, now: Instant, days: number): Instant {
  const today = localDate(now, shop.timeZone);
  const stretch = { zone: shop.timeZone, from: addDays(today, -21), to: today };
  const openings = new Map<string, number>();
  for (const { from } of openHours(stretch, shop.hours, shop.exceptions).open) {
    const date = localDate(from as Instant, shop.timeZone);
    // The book's template counts weekdays only.
    const weekday = new Date(`${date}T00:00:00Z`).getUTCDay();
    if (weekday !== 0 && weekday !== 6 && !openings.has(date)) openings.set(date, from);
  }
  return ([...openings.values()].at(-days) ?? dayStart(today, shop.timeZone)) as Instant;
}

function emptyBook(demo: ShopData, now: Instant): Book {
  return { ...demo, jobs: [], events: [], readings: [], previousPlan: null, now, horizonDays: PLAN_DAYS };
}

function bookedJobs(
  deps: PlanningDeps,
  demo: Awaited<ReturnType<typeof readDemo>>,
  then: Instant,
): { jobs: Job[]; tight: ReadonlySet<JobId> } {
  const book = emptyBook(demo, then);
  const tight = new Set<JobId>();
  const jobs = demoBook(demo.book, demo.shop, then).map(({ isToldTightly, ...draft }): Job => {
    const id = JobId.parse(deps.newId());
    if (isToldTightly) tight.add(id);
    return { ...draftJob(BookingRequest.parse(draft), id, book), state: 'booked' };
  });
  return { jobs, tight };
}

/**
 * Plans the book as a whole towards the pickups the customers want, and tells each the hours of that plan. Whoever's pickup is
 * less sure than the shop promises is told a later one, as the desk would, until all are sure or were put off often enough;
 * who then still has no sure pickup is told none yet.
 */
async function promisedBook(
  deps: PlanningDeps,
  book: Book,
  tight: ReadonlySet<JobId>,
): Promise<{ draft: DraftPlan; jobs: readonly Job[] }> {
  const wanted = book.jobs.map((job): Job => {
    const pickupAt = job.wantedPickupAt;
    return pickupAt === null ? job : { ...job, promise: { pickupAt, givenAt: book.now, confidencePercent: 0 } };
  });
  const ask = { reason: 'demo', workLimit: deps.budget.promptWork };
  let draft = await draftPlan(deps, { ...book, jobs: wanted }, ask);
  let jobs: readonly Job[] = wanted.map((job) => toldBy(draft, job, tight.has(job.id)));
  for (let rounds = 0; ; rounds++) {
    const planned = { ...draft.book, jobs, previousPlan: draft.plan };
    const forecasts = new Map(planOutlook(planned, deps.seed).cars.map((car) => [car.jobId, car]));
    const isSure = ({ id }: Job) =>
      (forecasts.get(id)?.probabilityPercent ?? 100) >= book.shop.promiseConfidencePercent || tight.has(id);
    if (jobs.every(isSure) || rounds === MOST_ROUNDS) {
      return { draft, jobs: jobs.map((job) => asForecast(isSure(job) ? job : { ...job, promise: null }, forecasts)) };
    }
    jobs = jobs.map((job) => {
      const later = forecasts.get(job.id)?.earliest?.pickupAt;
      if (isSure(job) || job.promise === null || later === undefined) return job;
      return { ...job, promise: { ...job.promise, pickupAt: Math.max(job.promise.pickupAt, later) as Instant } };
    });
    draft = await draftPlan(deps, { ...book, jobs, previousPlan: draft.plan }, { ...ask, keepPlan: true });
  }
}

/** The job with the hours that a plan gives it; without room: the quarter hour in which it is ready. */
function toldBy(draft: DraftPlan, job: Job, tightly: boolean): Job {
  const planned = draft.plan.jobs.find((each) => each.jobId === job.id);
  if (planned === undefined) return { ...job, promise: null };
  const { dropOffAt, readyAt } = planned;
  const pickupAt = tightly ? ((Math.ceil(readyAt / QUARTER_MS) * QUARTER_MS) as Instant) : planned.pickupAt;
  return { ...job, dropOffAt, promise: { pickupAt, givenAt: draft.book.now, confidencePercent: 0 } };
}

function asForecast(job: Job, forecasts: ReadonlyMap<JobId, CarForecast>): Job {
  const forecast = forecasts.get(job.id);
  if (job.promise === null || forecast === undefined) return job;
  const { medianReadyAt, probabilityPercent } = forecast;
  return { ...job, promise: { ...job.promise, medianReadyAt, confidencePercent: probabilityPercent ?? 0 } };
}

function stateBy(job: Job, events: readonly Omit<FloorEvent, 'sequence'>[]): Job {
  const own = events.filter((event) => event.jobId === job.id);
  if (own.some((event) => event.fact.kind === 'pickedUp')) return { ...job, state: 'done' };
  return own.length > 0 ? { ...job, state: 'inShop' } : job;
}
