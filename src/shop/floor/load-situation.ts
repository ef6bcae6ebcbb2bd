import type { Records } from '../../store/store.ts';
import { formulate } from '../../trade/formulate/formulate.ts';
import type { JobId, OperationKey, ShopId, TechnicianId } from '../../trade/model/ids.ts';
import type { FloorEvent, Job } from '../../trade/model/job.ts';
import type { ConditionsReading } from '../../trade/model/readings.ts';
import type { Recipe } from '../../trade/model/recipe.ts';
import type { Instant } from '../../trade/model/time.ts';
import { loadBook } from '../planning/load-book.ts';
import { Invalid, NotFound } from '../problems/problems.ts';
import { foundJob } from '../records/found.ts';
import { type CarOnFloor, placeOfCar, type Situation } from './gates/situation.ts';
import { stepOf } from './recipe-step.ts';
import { whatHappened } from './what-happened.ts';

export interface SituationAsked {
  readonly shopId: ShopId;
  readonly jobId: JobId;
  readonly operation: OperationKey;
  readonly by: readonly TechnicianId[];
  readonly at: Instant;
}

/** Of what lies ahead gates look at nothing but cures that go on; calendars of more days would only be written. */
const GATE_DAYS = 10;

/** Reads what the gates look at, as it was at an instant. @throws NotFound, Invalid (operation) */
export async function loadSituation(records: Records, asked: SituationAsked): Promise<Situation> {
  const { shopId, at } = asked;
  const { value: job } = await foundJob(records, shopId, asked.jobId);
  const book = await loadBook(records, shopId, at);
  const jobs = book.jobs.some((each) => each.id === job.id) ? book.jobs : [...book.jobs, job];
  const events = (
    await records.floorEvents.listByJobs(
      shopId,
      jobs.map((each) => each.id),
    )
  ).filter((event) => event.occurredAt <= at);
  const recipes = new Map(book.recipes.map((each) => [each.id as string, each]));
  const cars = jobs.map((each) => carOnFloor(each, recipes, events, at));
  const own = cars.find((car) => car.job.id === job.id)!;
  const step = stepOf(own.recipe, asked.operation);
  // A job that was closed is looked at as if it were open: its car may be here all the same.
  const open = { ...job, state: job.state === 'booked' || job.state === 'held' ? job.state : ('inShop' as const) };
  const formulation = formulate({
    ...book,
    jobs: [open],
    events: events.filter(({ jobId }) => jobId === job.id),
    previousPlan: null,
    horizonDays: GATE_DAYS,
    slackDays: 1,
  });
  if (step === null && formulation.operationIndex(job.id, asked.operation) === undefined) {
    throw new Invalid(`The recipe "${own.recipe.name}" has no operation "${asked.operation}".`, 'operation');
  }
  const by = asked.by.map((id) => {
    const technician = book.technicians.find((each) => each.id === id);
    if (technician === undefined) throw new NotFound('technician', id, 'by');
    return technician;
  });
  const { shop, places, airZones, coatings } = book;
  return {
    ...own,
    at,
    shop,
    operation: asked.operation,
    step,
    formulation,
    by,
    places,
    airZones,
    coatings,
    reading: await freshestReading(records, shopId, own, placeOfCar(own, places)?.airZoneId ?? null, at),
    others: cars.filter((car) => car !== own && car.happened.arrivedAt !== null && car.happened.pickedUpAt === null),
  };
}

function carOnFloor(
  job: Job,
  recipes: ReadonlyMap<string, Recipe>,
  events: readonly FloorEvent[],
  until: Instant,
): CarOnFloor {
  const recipe = recipes.get(job.recipeId);
  if (recipe === undefined) throw new NotFound('recipe', job.recipeId, 'recipeId');
  const own = events.filter((event) => event.jobId === job.id);
  return { job, recipe, happened: whatHappened(own, until) };
}

/** The newest measured reading of the zone; one taken on this car's own panel outranks an equally old one. */
async function freshestReading(
  records: Records,
  shopId: ShopId,
  car: CarOnFloor,
  airZoneId: ConditionsReading['airZoneId'] | null,
  at: Instant,
): Promise<ConditionsReading | null> {
  if (airZoneId === null) return null;
  const hourBefore = Math.max(0, at - 60 * 60_000) as Instant;
  const justAfter = (at + 1) as Instant;
  const recent = await records.readings.list(shopId, {
    from: hourBefore,
    to: justAfter,
    airZoneId,
    source: 'measured',
  });
  const fitting = recent.filter((each) => each.jobId === null || each.jobId === car.job.id);
  const newest = fitting.sort((a, b) => b.at - a.at || (b.jobId === null ? 0 : 1) - (a.jobId === null ? 0 : 1)).at(0);
  return newest ?? (await records.readings.latest(shopId, airZoneId, at, 'measured'));
}
