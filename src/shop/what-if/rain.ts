import { addDays, dayStart } from '../../trade/calendar/local-instant.ts';
import { judgeConditions } from '../../trade/conditions/judge-conditions.ts';
import { safeTimes } from '../../trade/cure/safe-times.ts';
import { yardAir } from '../../trade/formulate/coating-times.ts';
import type { Coating } from '../../trade/model/coating.ts';
import type { JobId, PlaceId, ShopId } from '../../trade/model/ids.ts';
import type { Job } from '../../trade/model/job.ts';
import type { Plan, PlannedOperation } from '../../trade/model/plan.ts';
import type { AirConditions, Place } from '../../trade/model/shop.ts';
import type { Instant, LocalDate } from '../../trade/model/time.ts';
import type { PlanningDeps } from '../deps.ts';
import { stepOf } from '../floor/recipe-step.ts';
import { carName } from '../jobs/job-view.ts';
import { foundShop } from '../records/found.ts';
import { localClock } from './local-clock.ts';

/** One car that the rain reaches, at one time of that day. */
export interface CarInRain {
  readonly jobId: JobId;
  readonly car: string;
  /** `mustStayDry`: coated, and its coating not water-safe by then; `getsWet`: nothing spoils, but it has to dry again. */
  readonly verdict: 'mustStayDry' | 'getsWet';
  readonly how: 'stands' | 'isMoved' | 'isFetched';
  readonly from: Instant;
  readonly to: Instant;
  readonly placeId: PlaceId | null;
  /** Null when no layer lies on it by then. */
  readonly waterSafeAt: Instant | null;
  /** What to do about it, in words. */
  readonly todo: string;
}

export interface RainAnswer {
  readonly day: LocalDate;
  /** What must stay dry first, then by hour. */
  readonly cars: readonly CarInRain[];
  /** Cars in the shop that day that stay under a roof all of it. */
  readonly sheltered: number;
  /** Coatings planned that day that could not be laid if a room took on the outside air asked about. */
  readonly coatings: readonly string[];
}

const laysCoat: ReadonlySet<PlannedOperation['kind']> = new Set(['coatLayer', 'glassCoat', 'wheelCoat', 'trimCoat']);

interface Shed {
  readonly plan: Plan;
  readonly jobs: ReadonlyMap<JobId, Job>;
  readonly places: ReadonlyMap<PlaceId, Place>;
  readonly coatingOf: (operation: PlannedOperation) => Coating | undefined;
  readonly airOf: (placeId: PlaceId | null) => AirConditions;
  readonly clock: (at: Instant) => string;
}

/**
 * "It will rain that day, what now": cars that the plan has in the open, moves or hands over then, and what to do.
 * Water-safe times are those of the data sheet at the room's set point; the sheet itself and the lead decide. That seams must
 * dry again before masking is common practice. Nothing is stored.
 * @param outside air the rooms might take on; null: not asked
 * @throws NotFound (shop)
 */
export async function whatIfItRains(
  deps: Pick<PlanningDeps, 'store'>,
  input: { shopId: ShopId; day: LocalDate; outside: AirConditions | null },
): Promise<RainAnswer> {
  const { shopId, day, outside } = input;
  const { store } = deps;
  const shop = await foundShop(store, shopId);
  const plan = await store.plans.current(shopId);
  if (plan === null) return { day, cars: [], sheltered: 0, coatings: [] };
  const wet = { from: dayStart(day, shop.timeZone), to: dayStart(addDays(day, 1), shop.timeZone) };
  const jobs = new Map((await store.jobs.listOpen(shopId)).map(({ value }) => [value.id, value]));
  const places = new Map((await store.places.list(shopId)).map(({ value }) => [value.id, value]));
  const zones = new Map((await store.airZones.list(shopId)).map(({ value }) => [value.id, value]));
  const recipes = new Map((await store.recipes.list(shopId)).map(({ value }) => [value.id, value]));
  const coatings = new Map((await store.coatings.list(shopId)).map(({ value }) => [value.id, value]));
  const shed: Shed = {
    plan,
    jobs,
    places,
    coatingOf: ({ jobId, operation }) => {
      const recipe = recipes.get(jobs.get(jobId)?.recipeId ?? ('' as never));
      const id = recipe === undefined ? null : stepOf(recipe, operation)?.coatingId;
      return id == null ? undefined : coatings.get(id);
    },
    airOf: (placeId) => {
      const zone = placeId === null ? null : (places.get(placeId)?.airZoneId ?? null);
      return (zone === null ? undefined : zones.get(zone)?.setPoint) ?? yardAir;
    },
    clock: (at) => localClock(at, shop),
  };
  const cars = [...jobs.values()].flatMap((job) => rainOn(job, wet, shed));
  const here = new Set(plan.stays.filter((stay) => stay.from < wet.to && stay.to > wet.from).map(({ jobId }) => jobId));
  const reached = new Set(cars.map(({ jobId }) => jobId));
  const worst = (car: CarInRain) => (car.verdict === 'mustStayDry' ? 0 : 1);
  return {
    day,
    cars: cars.sort((a, b) => worst(a) - worst(b) || a.from - b.from),
    sheltered: [...here].filter((jobId) => !reached.has(jobId)).length,
    coatings: outside === null ? [] : refusedIn(outside, wet, shed),
  };
}

type Stretch = { readonly from: Instant; readonly to: Instant };
type Exposure = Stretch & Pick<CarInRain, 'how' | 'placeId'>;

function rainOn(job: Job, wet: Stretch, shed: Shed): CarInRain[] {
  const safeAt = waterSafeAt(job.id, shed);
  return exposures(job.id, wet, shed).map((exposure) => {
    const coatedAt = safeAt.find(({ laid }) => laid <= exposure.from);
    const waterSafe = coatedAt?.safe ?? null;
    const verdict = waterSafe !== null && waterSafe > exposure.from ? 'mustStayDry' : 'getsWet';
    const todo = verdict === 'mustStayDry' ? keepDry(exposure, waterSafe!, shed) : letDry(exposure, shed);
    return { jobId: job.id, car: carName(job), verdict, ...exposure, waterSafeAt: waterSafe, todo };
  });
}

/** When each layer was or will be laid and is safe from water, the last first. */
function waterSafeAt(jobId: JobId, { plan, coatingOf, airOf }: Shed): { laid: Instant; safe: Instant }[] {
  return plan.operations
    .filter((each) => each.jobId === jobId && laysCoat.has(each.kind))
    .flatMap((each) => {
      const coating = coatingOf(each);
      if (coating === undefined) return [];
      const minutes = safeTimes(coating.dataSheet, airOf(each.placeId)).waterSafeMinutes;
      return [{ laid: each.start, safe: (each.end + minutes * 60_000) as Instant }];
    })
    .sort((a, b) => b.laid - a.laid);
}

/** When the car is in the open that day: standing there, on its way, or fetched by its owner. A way between rooms of one air is none. */
function exposures(jobId: JobId, wet: Stretch, { plan, places }: Shed): Exposure[] {
  const touches = ({ from, to }: Stretch) => from < wet.to && to > wet.from;
  const within = ({ from, to }: Stretch) => ({
    from: Math.max(from, wet.from) as Instant,
    to: Math.min(to, wet.to) as Instant,
  });
  const stays = plan.stays.filter((stay) => stay.jobId === jobId);
  const isOutdoors = (placeId: PlaceId) => places.get(placeId)?.indoor === false;
  const standing = stays
    .filter((stay) => isOutdoors(stay.placeId) && touches(stay))
    .map((stay): Exposure => ({ how: 'stands', placeId: stay.placeId, ...within(stay) }));
  const moves = plan.operations
    .filter(
      (each) => each.jobId === jobId && each.kind === 'move' && each.state !== 'finished' && each.placeId !== null,
    )
    .filter((each) => touches({ from: each.start, to: each.end }))
    .filter((each) => {
      const before = stays.findLast((stay) => stay.from < each.start);
      const from = before === undefined ? undefined : places.get(before.placeId);
      const to = places.get(each.placeId!);
      return from?.indoor !== true || to?.indoor !== true || from.airZoneId !== to.airZoneId;
    })
    .map((each): Exposure => ({ how: 'isMoved', placeId: each.placeId, from: each.start, to: each.end }));
  const pickup = plan.jobs.find((each) => each.jobId === jobId)?.pickupAt;
  const fetched: Exposure[] =
    pickup !== undefined && pickup >= wet.from && pickup < wet.to
      ? [{ how: 'isFetched', placeId: null, from: pickup, to: pickup }]
      : [];
  return [...standing, ...moves, ...fetched];
}

function keepDry({ how, from, to }: Exposure, safe: Instant, shed: Shed): string {
  const until = shed.clock(safe);
  if (how === 'isMoved')
    return `Its coating is not water-safe before ${until}: move it only while it is dry, or later.`;
  if (how === 'isFetched')
    return `Its coating is not water-safe before ${until}: agree on a later pickup, or a dry hour.`;
  const roof = freeRoof(from, to, shed);
  const where =
    roof === null ? 'No place under a roof is free all that time; ask what could make room.' : `${roof} is free.`;
  return `Its coating is not water-safe before ${until}: bring it under a roof. ${where}`;
}

function letDry({ how, from, to }: Exposure, shed: Shed): string {
  if (how === 'isFetched') return 'Tell the customer it may be driven in the rain; it is best dried by hand at home.';
  if (how === 'isMoved') return 'It may get wet on the way: dry it before the next work.';
  const roof = freeRoof(from, to, shed);
  const dry = 'If it gets wet, seams and mirrors must dry out before masking.';
  return roof === null ? dry : `${roof} is free all that time. ${dry}`;
}

/** A place under a roof to stand in that no car of the plan holds in the stretch. */
function freeRoof(from: Instant, to: Instant, { plan, places }: Shed): string | null {
  const free = [...places.values()].find(
    (place) =>
      place.indoor &&
      place.capabilities.includes('hold') &&
      !plan.stays.some((stay) => stay.placeId === place.id && stay.from < to && stay.to > from),
  );
  return free?.name ?? null;
}

function refusedIn(outside: AirConditions, wet: Stretch, { plan, jobs, coatingOf }: Shed): string[] {
  return plan.operations
    .filter((each) => laysCoat.has(each.kind) && each.state === 'planned' && each.start < wet.to && each.end > wet.from)
    .flatMap((each) => {
      const coating = coatingOf(each);
      const job = jobs.get(each.jobId);
      if (coating === undefined || job === undefined) return [];
      const { fit, reasons } = judgeConditions(coating.dataSheet, outside);
      if (fit) return [];
      return [`${carName(job)}, ${each.label}: not laid at ${reasons.map(({ text }) => text).join('; ')}.`];
    });
}
