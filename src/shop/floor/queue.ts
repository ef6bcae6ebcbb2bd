import { addDays, dayStart } from '../../trade/calendar/local-instant.ts';
import { judgeConditions } from '../../trade/conditions/judge-conditions.ts';
import { type Caution, cautions } from '../../trade/hazards/cautions.ts';
import { type Instruction, instructions } from '../../trade/hazards/instructions.ts';
import { coatedAreaM2, millilitresFor } from '../../trade/materials/coating-need.ts';
import type { Coating } from '../../trade/model/coating.ts';
import type { JobId, OperationKey, PlaceId, ShopId, TechnicianId } from '../../trade/model/ids.ts';
import type { PlannedOperation } from '../../trade/model/plan.ts';
import type { ConditionsReading } from '../../trade/model/readings.ts';
import type { Recipe } from '../../trade/model/recipe.ts';
import type { Instant, LocalDate } from '../../trade/model/time.ts';
import type { VehicleClass } from '../../trade/model/vehicle.ts';
import type { ShopDeps } from '../deps.ts';
import { carLook, carName } from '../jobs/job-view.ts';
import { NotFound } from '../problems/problems.ts';
import { openJobsById, shopAsItStands } from '../records/shop-as-it-stands.ts';
import { happenedTo, toldOfCarsHere, withCarsHere } from './as-the-floor-tells.ts';
import { laysCoat } from './gates/conditions-gate.ts';
import { indexOf } from './plan-index.ts';
import { stepOf } from './recipe-step.ts';

export interface QueueItem {
  readonly when: 'now' | 'next' | 'later' | 'done';
  readonly jobId: JobId;
  readonly operation: OperationKey;
  readonly planned: PlannedOperation;
  /** Vehicle and registration. */
  readonly car: string;
  readonly look: string;
  readonly registration: string;
  readonly placeId: PlaceId | null;
  readonly placeName: string;
  /** Latest start a running window leaves, null when none. */
  readonly windowClosesAt: Instant | null;
  readonly minutesToWindow: number | null;
  readonly instructions: readonly Instruction[];
  readonly cautions: readonly Caution[];
  readonly products: readonly string[];
  /** Conditions the work needs and the freshest reading, in a sentence each. */
  readonly conditions: readonly string[];
}

export interface Queue {
  readonly technicianId: TechnicianId;
  readonly name: string;
  readonly date: LocalDate;
  readonly asOf: Instant;
  readonly planVersion: number;
  readonly items: readonly QueueItem[];
}

/** A technician's day in order, as the plan has it and the floor has told since. @throws NotFound */
export async function technicianQueue(
  deps: Pick<ShopDeps, 'store' | 'clock'>,
  input: { shopId: ShopId; technicianId: TechnicianId; date: LocalDate },
): Promise<Queue> {
  const { shopId, technicianId, date } = input;
  const now = deps.clock();
  const standing = await shopAsItStands(deps.store, shopId);
  const { shop, plan, coatings } = standing;
  const technician = standing.technicians.find(({ id }) => id === technicianId);
  if (technician === undefined) throw new NotFound('technician', technicianId, 'technicianId');
  const from = dayStart(date, shop.timeZone);
  const to = dayStart(addDays(date, 1), shop.timeZone);
  const jobs = openJobsById(standing);
  const happened = happenedTo(toldOfCarsHere(standing), now);
  const index = indexOf(plan);
  const own = withCarsHere(index, index.ofDay(from, to, technicianId), happened, now)
    .filter(({ start, end, people }) => people.includes(technicianId) && start < to && end > from)
    .sort((a, b) => a.start - b.start);
  const recipes = new Map(standing.recipes.map((recipe) => [recipe.id, recipe]));
  const places = new Map(standing.places.map((place) => [place.id, place]));
  const items: QueueItem[] = [];
  const order = whenOf(own, now);
  for (const planned of own) {
    const job = jobs.get(planned.jobId);
    const recipe = job === undefined ? undefined : recipes.get(job.recipeId);
    if (job === undefined || recipe === undefined) continue;
    const place = planned.placeId === null ? undefined : places.get(planned.placeId);
    const coating = coatingOf(recipe, planned, coatings);
    const laying = coating !== undefined && laysCoat.has(planned.kind);
    const reading =
      laying && place?.airZoneId ? await deps.store.readings.latest(shopId, place.airZoneId, now, 'measured') : null;
    const left = planned.windowClosesAt === null ? null : Math.floor((planned.windowClosesAt - now) / 60_000);
    items.push({
      when: order.get(planned) ?? 'later',
      jobId: planned.jobId,
      operation: planned.operation,
      planned,
      car: carName(job),
      look: carLook(job),
      registration: job.vehicle.registration,
      placeId: planned.placeId,
      placeName: place?.name ?? '',
      windowClosesAt: planned.windowClosesAt,
      minutesToWindow: left,
      instructions: instructions(planned.kind, coating?.dataSheet),
      cautions: cautions(planned.kind),
      products: laying ? [productLine(coating, planned, job.vehicle.class)] : [],
      conditions: laying ? conditionLines(coating, reading, now) : [],
    });
  }
  return { technicianId, name: technician.name, date, asOf: now, planVersion: plan?.version ?? 0, items };
}

/** Work under way or due is `now`, the first after it `next`; a day without work under way has its first piece `next`. */
function whenOf(own: readonly PlannedOperation[], now: Instant): ReadonlyMap<PlannedOperation, QueueItem['when']> {
  const order = new Map<PlannedOperation, QueueItem['when']>();
  let next: PlannedOperation | undefined;
  for (const each of [...own].sort((a, b) => a.start - b.start)) {
    if (each.state === 'finished') order.set(each, 'done');
    else if (each.state === 'underWay' || (each.start <= now && each.state === 'planned')) order.set(each, 'now');
    else if (next === undefined) {
      next = each;
      order.set(each, 'next');
    } else order.set(each, 'later');
  }
  return order;
}

function coatingOf(recipe: Recipe, planned: PlannedOperation, coatings: readonly Coating[]): Coating | undefined {
  const id = stepOf(recipe, planned.operation)?.coatingId ?? null;
  return coatings.find((each) => each.id === id);
}

function productLine(coating: Coating, planned: PlannedOperation, vehicle: VehicleClass): string {
  const millilitres = millilitresFor(coating.dataSheet, coatedAreaM2(planned.kind, vehicle));
  const { flashSecondsFrom, flashSecondsTo } = coating.dataSheet;
  return `${coating.name}, about ${millilitres} ml; level after ${flashSecondsFrom} to ${flashSecondsTo} s.`;
}

function conditionLines(coating: Coating, reading: ConditionsReading | null, now: Instant): readonly string[] {
  const sheet = coating.dataSheet;
  const needs =
    `Air ${sheet.minAirTempC} to ${sheet.maxAirTempC} °C, ${sheet.minRelativeHumidityPercent} to ` +
    `${sheet.maxRelativeHumidityPercent} % humidity, panel at most ${sheet.maxPanelTempC} °C and at least ` +
    `${sheet.minDewPointMarginK} K above dew point.`;
  if (reading === null) return [needs, 'No reading was taken yet; take one before coating.'];
  const age = Math.floor((now - reading.at) / 60_000);
  const panel = reading.panelTempC === null ? 'panel not measured' : `panel ${reading.panelTempC} °C`;
  const last = `Last reading ${age} min ago: air ${reading.airTempC} °C, ${reading.relativeHumidityPercent} %, ${panel}.`;
  const against = judgeConditions(sheet, reading).reasons.map((each) => `Outside the limits: ${each.text}.`);
  return age >= 60
    ? [needs, last, 'The reading is older than an hour; take a new one.', ...against]
    : [needs, last, ...against];
}
