import { sampleQuantile, shareWithin } from '../../../promise/simulate/sample-quantile.ts';
import { scenarioSeed, streamOf, uniform } from '../../../promise/simulate/seeded-draws.ts';
import { placesFor } from '../../../trade/booking/vehicle-fit.ts';
import { addDays, localDate } from '../../../trade/calendar/local-instant.ts';
import { openHours } from '../../../trade/calendar/open-hours.ts';
import type { PastTemplate } from '../../../trade/demo/past-template.ts';
import type { ShopData } from '../../../trade/formulate/book.ts';
import { JobId } from '../../../trade/model/ids.ts';
import type { FloorEvent, Job } from '../../../trade/model/job.ts';
import type { Recipe } from '../../../trade/model/recipe.ts';
import type { Place } from '../../../trade/model/shop.ts';
import type { Instant } from '../../../trade/model/time.ts';
import { PanelName } from '../../../trade/model/vehicle.ts';
import { draftJob, priceOf } from '../../booking/draft-job.ts';
import { onTheQuarter } from '../../booking/pickup-for.ts';
import { bookedPasses } from '../../inspection/booked-passes.ts';
import type { DemoData } from '../demo-data.ts';
import { emptyBook } from '../empty-book.ts';
import { type PastBooking, pastBookings } from './past-bookings.ts';
import { failsAsStated, type PastLuck, pastLuck } from './past-luck.ts';
import { pastSteps } from './past-step.ts';
import { type PastCar, type PastShop, type PastVisit, runPast, WAITING } from './run-past.ts';
import { visitFacts } from './visit-facts.ts';

/** Cars that came and went, and what the floor told of them. */
export interface DemoPast {
  readonly jobs: readonly Job[];
  /** By job, each job's in order. */
  readonly events: readonly Omit<FloorEvent, 'sequence'>[];
}

/** The past is run through so many times before an hour is told to anybody. */
const FORECASTS = 24;
const QUARTER_MS = 15 * 60_000;
const MINUTE_MS = 60_000;
const HOUR_MS = 60 * MINUTE_MS;
/** How much later than told a car is brought or fetched at most, in minutes. */
const UNPUNCTUAL_MINUTES = 6;
/** Hours are laid out so far past the last day: whatever is under way then is not told. */
const DAYS_AFTER = 14;

/**
 * The demo's weeks before `then`, from the seed: cars that were promised an hour as surely as the shop promises, and the work as it really went.
 *
 * @param openings of the working days before `then`, oldest first; a week of the template takes five.
 */
export function makePast(data: DemoData, openings: readonly Instant[], then: Instant, newId: () => string): DemoPast {
  const template = data.past;
  const bookings = pastBookings(template, data.book, openings.slice(-5 * template.weeks));
  if (bookings.length === 0) return { jobs: [], events: [] };
  const shop = shopOf(data, bookings[0]!.dropOffAt, then);
  const until = shop.open.at(-1)!.to as Instant;
  const draw = (what: string) => uniform(scenarioSeed(template.seed, 0), streamOf(what));
  const recipeOf = (booking: PastBooking) => data.recipes.find(({ id }) => id === booking.request.recipeId)!;
  const places = bookings.map((booking) => placesOf(recipeOf(booking), booking, data.places));

  const asked = bookings.map((booking) => {
    const book = emptyBook(data, booking.bookedAt);
    return { ...draftJob(booking.request, JobId.parse(newId()), book), dropOffAt: booking.dropOffAt };
  });
  const promised = promisesOf(data, shop, asked, places, until);
  const grown = promised.map((job, index) =>
    inspected(job, recipeOf(bookings[index]!), data, draw(`${index} scope`) * 100 < template.scopeGrowsPercent),
  );
  const late = new Map(
    template.lateDropOffMinutes.map((minutes, k) => [
      Math.floor(((k + 0.6) * bookings.length) / template.lateDropOffMinutes.length),
      minutes,
    ]),
  );
  const unpunctual = (what: string) => Math.floor(draw(what) * UNPUNCTUAL_MINUTES) * MINUTE_MS;
  const cars = grown.map((job, index): PastCar => {
    const dropOffAt = bookings[index]!.dropOffAt + (late.get(index) ?? 0) * MINUTE_MS;
    return {
      comesAt: (dropOffAt + unpunctual(`${index} comes`)) as Instant,
      steps: pastSteps(job, recipeOf(bookings[index]!), data),
      placesOf: places[index]!,
      fetchedAt: (job.promise!.pickupAt + unpunctual(`${index} fetched`)) as Instant,
    };
  });
  const visits = runPast(
    shop,
    cars,
    pastLuck(template, 0, shop.dayAt(bookings[0]!.dropOffAt), failuresOf(template, cars)),
    until,
  );
  const forgotten = forgottenIn(template, visits);
  const jobs: Job[] = [];
  const events: Omit<FloorEvent, 'sequence'>[] = [];
  for (const [index, job] of grown.entries()) {
    const visit = visits[index]!;
    // Whatever would still be there stands in the way of the cars that the demo opens with.
    if (visit.leftAt === null || visit.leftAt > then) continue;
    jobs.push(gone(job, visit));
    for (const { occurredAt, fact } of visitFacts(visit, forgotten.get(index) ?? new Map())) {
      events.push({ jobId: job.id, clientId: `demo-past-${events.length}`, occurredAt, recordedAt: occurredAt, fact });
    }
  }
  return { jobs, events };
}

function shopOf(data: ShopData, first: Instant, then: Instant): PastShop {
  const { timeZone: zone, hours, exceptions } = data.shop;
  const days = { zone, from: addDays(localDate(first, zone), -1), to: addDays(localDate(then, zone), DAYS_AFTER) };
  const dates = new Map<number, string>();
  return {
    shop: data.shop,
    dayAt: (at) => {
      // Looked up once an hour: days begin on whole hours.
      const hour = Math.floor(at / HOUR_MS);
      const known = dates.get(hour) ?? localDate(at, zone);
      dates.set(hour, known);
      return known;
    },
    // Whoever stands behind another would have to wait for them: the past does without.
    places: data.places.filter(({ blockedBy }) => blockedBy.length === 0),
    people: data.technicians.map((technician) => ({
      technician,
      hours: openHours(days, technician.shifts, technician.exceptions).open,
    })),
    open: openHours(days, hours, exceptions).open,
  };
}

/** Where a car may stand in each stay; parking places before bays, so that bays are free for work. */
function placesOf(recipe: Recipe, { request }: PastBooking, all: readonly Place[]): Map<string, readonly Place[]> {
  const able = (needs: Recipe['stays'][number]['needs']) =>
    placesFor(needs, request.vehicle, all)
      .filter(({ blockedBy }) => blockedBy.length === 0)
      .sort((a, b) => Number(a.kind === 'bay') - Number(b.kind === 'bay'));
  return new Map([
    ...recipe.stays.map(({ key, needs }) => [key, able(needs)] as const),
    [WAITING, able(['hold'])] as const,
  ]);
}

/** Each job with the hour that was told: as sure as the shop promises, by how the whole past might have gone. */
function promisesOf(
  data: DemoData,
  shop: PastShop,
  jobs: readonly Job[],
  places: readonly PastCar['placesOf'][],
  until: Instant,
): Job[] {
  const cars = jobs.map(
    (job, index): PastCar => ({
      comesAt: (job.dropOffAt! + UNPUNCTUAL_MINUTES * MINUTE_MS) as Instant,
      steps: pastSteps(job, data.recipes.find(({ id }) => id === job.recipeId)!, data),
      placesOf: places[index]!,
      fetchedAt: null,
    }),
  );
  const ready = jobs.map(() => new Float64Array(FORECASTS));
  for (let scenario = 0; scenario < FORECASTS; scenario++) {
    const fails = failsAsStated(data.past, scenario + 1, data.shop.finalInspectionFailurePercent);
    const luck = pastLuck(data.past, scenario + 1, shop.dayAt(jobs[0]!.dropOffAt!), fails);
    for (const [index, visit] of runPast(shop, cars, luck, until).entries())
      ready[index]![scenario] = visit.readyAt ?? until;
  }
  return jobs.map((job, index) => {
    const times = ready[index]!.sort();
    const pickupAt = nextOpen(
      shop,
      onTheQuarter(sampleQuantile(times, data.shop.promiseConfidencePercent / 100) as Instant),
    );
    // So few runs are no certainty.
    const confidencePercent =
      Math.round((1000 * (shareWithin(times, pickupAt) * FORECASTS + 0.5)) / (FORECASTS + 1)) / 10;
    const medianReadyAt = sampleQuantile(times, 0.5) as Instant;
    return { ...job, promise: { pickupAt, givenAt: job.createdAt, confidencePercent, medianReadyAt, spreadFactor: 1 } };
  });
}

/** The first quarter of an hour from then on at which a car can be fetched. */
function nextOpen({ open }: PastShop, at: Instant): Instant {
  const hours = open.find(({ to }) => at + QUARTER_MS < to)!;
  return Math.max(at, hours.from) as Instant;
}

/** A job that is corrected, with what the inspection on clean paint found: what was booked, or one more pass that the customer agreed to. */
function inspected(job: Job, recipe: Recipe, data: ShopData, grows: boolean): Job {
  if (!recipe.corrects) return job;
  const { defects } = job.condition;
  const { paintHardness } = job.vehicle;
  const inspection = {
    at: job.dropOffAt!,
    panels: PanelName.options.map((panel) => ({ panel, defects })),
    film: [],
    paintHardness,
  };
  const scope = {
    correctionPasses: bookedPasses(job) + Number(grows),
    answer: grows ? ('approved' as const) : ('defaulted' as const),
    answerBy: job.dropOffAt!,
    priceMinor: job.priceMinor,
  };
  const priceMinor = priceOf({ ...job, inspection, scope }, emptyBook(data, job.createdAt));
  return { ...job, inspection, scope: { ...scope, priceMinor }, priceMinor };
}

/** The inspections that the template says failed. */
function failuresOf({ failedInspections }: PastTemplate, cars: readonly PastCar[]): PastLuck['rework'] {
  const withOne = [...cars.keys()].filter((index) =>
    cars[index]!.steps.some(({ step }) => step.kind === 'finalInspection'),
  );
  const failures = new Map(
    failedInspections.flatMap(({ inspection, reworkMinutes }) => {
      const car = withOne[inspection];
      return car === undefined ? [] : [[car, reworkMinutes] as const];
    }),
  );
  return (car) => failures.get(car) ?? null;
}

/** Minutes after which an end was told, by car and operation: each in the middle of all work of its kind. */
function forgottenIn(
  { forgottenFinishes }: PastTemplate,
  visits: readonly PastVisit[],
): Map<number, Map<string, number>> {
  const forgotten = new Map<number, Map<string, number>>();
  for (const { kind, minutes } of forgottenFinishes) {
    const alike = visits.flatMap(({ work }, car) =>
      work.filter(({ step }) => step.kind === kind).map(({ key }) => ({ car, key })),
    );
    const one = alike[alike.length >> 1];
    if (one !== undefined) forgotten.set(one.car, new Map([...(forgotten.get(one.car) ?? []), [one.key, minutes]]));
  }
  return forgotten;
}

/** A job once its car has left. */
function gone(job: Job, { stays, work, leftAt }: PastVisit): Job {
  const inspection = work.find(({ step }) => step.kind === 'cleanPaintInspection');
  const at = (inspection?.pieces.at(-1)?.to ?? job.dropOffAt!) as Instant;
  return {
    ...job,
    state: 'done',
    inspection: job.inspection === null ? null : { ...job.inspection, at },
    scope: job.scope === null ? null : { ...job.scope, answerBy: at },
    cameAt: stays[0]!.from,
    leftAt: leftAt!,
  };
}
