import type {
  AirExclusion,
  Interval,
  Place as ProblemPlace,
  Progress,
  Resource,
} from '../../engine/problem/problem.ts';
import { type Axis, makeAxis } from '../calendar/axis.ts';
import { dayMs, dayStart } from '../calendar/local-instant.ts';
import { dayWindows, openHours } from '../calendar/open-hours.ts';
import { conditionsOverTime } from '../conditions/conditions-over-time.ts';
import type { ConditionsStep } from '../cure/cure-progress.ts';
import type { Coating } from '../model/coating.ts';
import type { CoatingId, PlaceId, TechnicianId } from '../model/ids.ts';
import type { Job } from '../model/job.ts';
import { AIR_LABELS } from '../model/lists.ts';
import type { ConditionsReading } from '../model/readings.ts';
import type { Recipe } from '../model/recipe.ts';
import type { AirLabel } from '../model/shop.ts';
import type { Instant } from '../model/time.ts';
import { commonNorms } from '../work-content/common-norms.ts';
import type { WorkNorms } from '../work-content/work-norms.ts';
import type { Book } from './book.ts';
import { daysOf, hoursTold } from './days-of-book.ts';
import { type EquipmentPool, equipmentPools, poolResource } from './equipment-pools.ts';
import { type Person, peopleOf, personResource, polishingBudgets } from './people.ts';
import { problemPlaces } from './problem-places.ts';

/** What all jobs of a book share, computed once. */
export interface Frame {
  readonly book: Book;
  readonly norms: WorkNorms;
  readonly axis: Axis;
  readonly now: number;
  readonly horizon: number;
  readonly people: readonly Person[];
  readonly personOf: ReadonlyMap<TechnicianId, Person>;
  readonly pools: readonly EquipmentPool[];
  readonly resources: readonly Resource[];
  readonly budgets: ReturnType<typeof polishingBudgets>;
  readonly places: readonly ProblemPlace[];
  readonly placeOf: ReadonlyMap<PlaceId, number>;
  readonly exclusions: readonly AirExclusion[];
  readonly recipeOf: ReadonlyMap<string, Recipe>;
  readonly coatingOf: ReadonlyMap<CoatingId, Coating>;
  /** Hours in which cars are brought and fetched. */
  readonly opening: readonly Interval[];
  /** Progress functions, added to as modes ask for them. */
  readonly progresses: Progress[];
  /** Lists of places by what asks for them; equal questions share one list. */
  readonly placeLists: Map<string, readonly number[]>;
  /** Of a list of places, the part that each turn has. */
  readonly placesByTurn: Map<readonly number[], readonly (readonly number[])[]>;
  /** Expected air and panels of a zone over the whole axis; null: the open yard, of which nothing is known. */
  conditions(zone: number | null): readonly ConditionsStep[];
}

/** What is left at least of the days past the last hour told, for a car that is added to a book that has been written. */
const leastSlackDays = 2;

export function frameOf(book: Book): Frame {
  const zone = book.shop.timeZone;
  const days = daysOf(book);
  const axis = makeAxis(dayStart(days.from, zone));
  const people = peopleOf(book, axis, days, arrangedHours(book, axis));
  const pools = equipmentPools(book, people.length);
  const placeOf = new Map(book.places.map(({ id }, index) => [id, index]));
  const conditionSteps = new Map<number, readonly ConditionsStep[]>();
  return {
    book,
    norms: book.norms ?? commonNorms,
    axis,
    now: axis.toMinute(book.now, 'ceil'),
    horizon: axis.toMinute(dayStart(days.to, zone), 'floor'),
    people,
    personOf: new Map(people.map((person) => [person.technician.id, person])),
    pools,
    resources: [...people.map(personResource), ...pools.map(poolResource)],
    budgets: polishingBudgets(people, axis.toIntervals(dayWindows(days)), book.shop.polishingLimitMinutes),
    places: problemPlaces(book, axis, days, placeOf),
    placeOf,
    exclusions: exclusionsOf(book),
    recipeOf: new Map(book.recipes.map((recipe) => [recipe.id as string, recipe])),
    coatingOf: new Map(book.coatings.map((coating) => [coating.id, coating])),
    opening: axis.toIntervals(openHours(days, book.shop.hours, book.shop.exceptions).open),
    progresses: [],
    placeLists: new Map(),
    placesByTurn: new Map(),
    conditions: (index) => {
      if (index === null) return [];
      let steps = conditionSteps.get(index);
      if (steps === undefined) {
        steps = conditionsIn(book, axis, index);
        conditionSteps.set(index, steps);
      }
      return steps;
    },
  };
}

/** Whether a frame would be the same with one more job: its hours lie within the axis, and nobody is arranged for it. */
export function holdsToo({ axis, horizon }: Frame, job: Job): boolean {
  if (job.arranged?.dropOffBy != null || job.arranged?.pickupBy != null) return false;
  const last = axis.toInstant(horizon) - leastSlackDays * dayMs;
  for (const at of hoursTold(job)) if (at < axis.epoch || at > last) return false;
  return true;
}

/** Expected air and panels of a zone, in the minutes of the axis. */
function conditionsIn({ airZones, readings, now }: Book, axis: Axis, zone: number): ConditionsStep[] {
  const { id, setPoint } = airZones[zone]!;
  const recent: ConditionsReading[] = [];
  for (const reading of readings) if (reading.airZoneId === id && isRecent(reading, now)) recent.push(reading);
  const steps: ConditionsStep[] = [];
  for (const { at, conditions } of conditionsOverTime(setPoint, recent, axis.epoch)) {
    steps.push({ at: axis.toMinute(at, 'floor'), conditions });
  }
  return steps;
}

/** What the air was longer ago tells nothing of a cure that is still going on. */
const recentDays = 4;

function isRecent({ source, at }: ConditionsReading, now: Instant): boolean {
  return source === 'normal' || at >= now - recentDays * dayMs;
}

/** Minutes around an arranged hour for which the named person is there. */
const arrangedMinutes = 60;

function arrangedHours(book: Book, axis: Axis): Map<TechnicianId, Interval[]> {
  const hours = new Map<TechnicianId, Interval[]>();
  for (const { arranged, dropOffAt, promise } of book.jobs) {
    if (arranged == null) continue;
    for (const [by, at] of [
      [arranged.dropOffBy, dropOffAt],
      [arranged.pickupBy, promise?.pickupAt],
    ] as const) {
      if (by == null || at == null || at < book.now) continue;
      const from = axis.toMinute(at, 'ceil');
      const known = hours.get(by) ?? [];
      known.push({ from, to: from + arrangedMinutes });
      hours.set(by, known);
    }
  }
  return hours;
}

function exclusionsOf({ airZones }: Book): AirExclusion[] {
  const exclusions: AirExclusion[] = [];
  for (const [zone, { rules }] of airZones.entries()) {
    for (const rule of rules) {
      if (rule.policy !== 'forbid') continue;
      exclusions.push({
        zone,
        first: airLabelIndex(rule.first),
        second: airLabelIndex(rule.second),
        settleAfterFirst: rule.settleAfterFirstMinutes,
        settleAfterSecond: rule.settleAfterSecondMinutes,
      });
    }
  }
  return exclusions;
}

export function airLabelIndex(label: AirLabel): number {
  return AIR_LABELS.indexOf(label);
}
