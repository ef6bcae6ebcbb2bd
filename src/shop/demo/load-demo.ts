import { addDays, dayStart, localDate } from '../../trade/calendar/local-instant.ts';
import { openHours } from '../../trade/calendar/open-hours.ts';
import { demoBook } from '../../trade/demo/demo-book.ts';
import type { Book, ShopData } from '../../trade/formulate/book.ts';
import { eventsByJob } from '../../trade/formulate/events-by-job.ts';
import { JobId, type ShopId } from '../../trade/model/ids.ts';
import type { FloorEvent, Job } from '../../trade/model/job.ts';
import type { Plan } from '../../trade/model/plan.ts';
import type { Shop } from '../../trade/model/shop.ts';
import type { Instant } from '../../trade/model/time.ts';
import type { LearnedFromFloor } from '../../trade/work-content/learned-from-floor.ts';
import { BookingRequest } from '../booking/booking-request.ts';
import { draftJob } from '../booking/draft-job.ts';
import { firstInserted } from '../booking/first-inserted.ts';
import { forecastInBook } from '../booking/forecast-in-book.ts';
import { keepInBook } from '../booking/keep-in-book.ts';
import { closedAt } from '../booking/opening.ts';
import { onTheQuarter } from '../booking/pickup-for.ts';
import type { PlanningDeps } from '../deps.ts';
import { comingAndGoing } from '../floor/coming-and-going.ts';
import { noteToldTimes } from '../messages/told-times.ts';
import { openResidentBook } from '../planning/open-resident-book.ts';
import { publish } from '../planning/publish.ts';
import { replan } from '../planning/replan.ts';
import type { Inserted, ResidentBook } from '../planning/resident-book.ts';
import { lessonsOf } from '../promises/floor-lessons.ts';
import { asIfItHappened } from './as-if-it-happened.ts';
import { readDemo } from './demo-data.ts';
import { emptyBook } from './empty-book.ts';
import { type DemoPast, makePast } from './past/make-past.ts';
import { putShopData } from './put-shop-data.ts';
import { oneToldAnew, toldAnew } from './told-anew.ts';
import { withOnly } from './with-only.ts';

/** Working days that lie behind when the demo opens, so that today finds cars in every state and the running week has its beginning. */
const DAYS_BEHIND = 5;
/** How far back working days are looked for. */
const MOST_DAYS_BACK = 182;

/** Drop-offs tried for a car before the demo is given up. */
const MOST_DROP_OFFS = 40;
const QUARTER_MS = 15 * 60_000;

/**
 * Loads the invented demo shop into an empty database; into any other, and the second time, it does nothing. Weeks of cars that came
 * and went lie behind it. Its book is sold as of two working days ago, what the plan then says has happened is told as facts, and
 * the rest is planned again from now.
 */
export async function loadDemo(deps: PlanningDeps): Promise<{ shopId: ShopId; loaded: boolean; jobs: number }> {
  const demo = await readDemo();
  const { shop } = demo;
  if ((await deps.store.shops.list()).length > 0) return { shopId: shop.id, loaded: false, jobs: 0 };
  const now = deps.clock();
  const openings = openingsUntil(shop, now, 5 * demo.past.weeks + DAYS_BEHIND);
  const then = openings.at(-DAYS_BEHIND) ?? dayStart(localDate(now, shop.timeZone), shop.timeZone);
  const past = makePast(demo, openings.slice(0, -DAYS_BEHIND), then, deps.newId);
  const { jobs, tight } = bookedJobs(deps, demo, then);
  const learned = learnedFrom(past, demo, then);
  const planned = promisedBook(deps, { ...emptyBook(demo, then), jobs, learned }, tight);
  const facts = asIfItHappened(planned.plan, now);
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
    for (const job of past.jobs) await records.jobs.put(shop.id, job, 'new');
    for (const job of planned.jobs) {
      const { value } = await records.jobs.put(shop.id, asToldBy(job, events), 'new');
      await noteToldTimes(records, shop.id, value, then);
    }
    await records.floorEvents.appendAll(shop.id, [...past.events, ...events]);
  });
  const asPlannedThen = { ...planned.plan, version: 0, jobs: keptNow(planned.plan) };
  const open = planned.jobs.filter((job) => asToldBy(job, events).state !== 'done');
  await publish(
    deps.store,
    { shopId: shop.id, plan: withOnly(asPlannedThen, open), expectedVersion: 0, jobs: open, exceptions: [] },
    now,
  );
  await replan({ ...deps, budget: { ...deps.budget, promptWork: 1 } }, { shopId: shop.id, reason: 'demo' });
  return { shopId: shop.id, loaded: true, jobs: planned.jobs.length };
}

/** Every promise was told from this plan, so that it keeps them all. */
function keptNow(plan: Plan): Plan['jobs'] {
  return plan.jobs.map((each) => ({ ...each, lateMinutes: 0 }));
}

/** Opening times of the last weekdays until now, oldest first: so many, or as many as half a year has. */
function openingsUntil(shop: Shop, now: Instant, days: number): Instant[] {
  const today = localDate(now, shop.timeZone);
  const stretch = { zone: shop.timeZone, from: addDays(today, -MOST_DAYS_BACK), to: today };
  const openings = new Map<string, Instant>();
  for (const { from } of openHours(stretch, shop.hours, shop.exceptions).open) {
    const date = localDate(from as Instant, shop.timeZone);
    // The book's template counts weekdays only.
    const weekday = new Date(`${date}T00:00:00Z`).getUTCDay();
    if (weekday !== 0 && weekday !== 6 && !openings.has(date)) openings.set(date, from as Instant);
  }
  return [...openings.values()].slice(-days);
}

/** What the floor had learned by then, so that the demo's hours are told as the shop would tell them. */
function learnedFrom(past: DemoPast, demo: ShopData, then: Instant): LearnedFromFloor {
  const eventsOf = eventsByJob(past.events.map((event, sequence) => ({ ...event, sequence })));
  const visits = past.jobs.map((job) => ({
    job,
    recipe: demo.recipes.find(({ id }) => id === job.recipeId)!,
    events: eventsOf.get(job.id) ?? [],
  }));
  return lessonsOf(visits, demo.shop, demo.technicians, then).learned;
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
 * Books the cars one after another, as the desk would: each at the soonest drop-off for which a pickup can be promised as surely
 * as the shop promises, moving nobody. One that the seed says so of is told in the end an hour at which it is as likely ready as not.
 */
function promisedBook(deps: PlanningDeps, book: Book, tight: ReadonlySet<JobId>): { plan: Plan; jobs: readonly Job[] } {
  let sold: { plan: Plan | null; jobs: readonly Job[] } = { plan: null, jobs: [] };
  for (const job of [...book.jobs].sort((a, b) => a.earliestDropOff - b.earliestDropOff)) {
    const resident = openResidentBook({ ...book, jobs: sold.jobs, previousPlan: sold.plan }, deps.seed);
    const kept = resident === null ? null : soonestPromised(resident, job);
    if (resident === null || kept === null) throw new Error(`the demo has no slot for ${job.vehicle.registration}`);
    const { plan } = resident.wholePlan(kept, { reason: 'demo', seed: deps.seed });
    sold = { plan, jobs: [...sold.jobs, kept.job] };
  }
  let told = toldAnew(book, { plan: sold.plan!, jobs: sold.jobs }, deps.seed);
  for (const id of tight) told = oneToldAnew(book, told, id, deps.seed, withoutRoom);
  return told;
}

function soonestPromised(resident: ResidentBook, job: Job): Inserted | null {
  let notBefore = job.earliestDropOff;
  for (let tries = 0; tries < MOST_DROP_OFFS; tries++) {
    const dropOffAt = firstInserted(resident, job, { notBefore, shortStay: true })?.planned.dropOffAt;
    if (dropOffAt === undefined) return null;
    const kept = keepInBook(resident, { ...job, dropOffAt }, { kind: 'earliest' });
    if (kept !== null) return kept;
    notBefore = (dropOffAt + QUARTER_MS) as Instant;
  }
  return null;
}

/** Told the first open quarter hour from which it is more likely ready than not. */
function withoutRoom(resident: ResidentBook, kept: Inserted): Inserted {
  const outlook = forecastInBook(resident, kept)!.whole;
  const { medianReadyAt = kept.planned.readyAt } = outlook.at(kept.planned.readyAt);
  let pickupAt = onTheQuarter(medianReadyAt);
  for (; pickupAt < kept.job.promise!.pickupAt; pickupAt = (pickupAt + QUARTER_MS) as Instant) {
    if (closedAt(resident.book, kept.job, 'pickupAt', pickupAt) !== null) continue;
    const promise = { ...outlook.at(pickupAt), givenAt: resident.book.now };
    const one = firstInserted(resident, { ...kept.job, promise });
    if (one?.planned.lateMinutes === 0) return one;
  }
  return kept;
}

/** A job after its part of the past. */
function asToldBy(job: Job, events: readonly Omit<FloorEvent, 'sequence'>[]): Job {
  const times = comingAndGoing(
    events.filter((event) => event.jobId === job.id),
    null,
  );
  const state = times.leftAt !== undefined ? 'done' : times.cameAt !== undefined ? 'inShop' : job.state;
  return { ...job, ...times, state };
}
