import type { Interval, Mode } from '../../engine/problem/problem.ts';
import { intersect, measure } from '../calendar/intervals.ts';
import type { TechnicianId } from '../model/ids.ts';
import type { RecipeStep, WorkKind } from '../model/recipe.ts';
import { CannotPlan, type Car } from './car.ts';
import type { CoatingTimes } from './coating-times.ts';
import { type CrewNeed, crewIds, crewNeed, crewPace, crewsFrom, eligible } from './crews.ts';
import type { EquipmentPool, Frame } from './frame.ts';
import { crewHours, type Person } from './people.ts';
import { hoursAsProgress } from './progress-reading.ts';

const polishing: ReadonlySet<WorkKind> = new Set(['testSpot', 'compound', 'finishPolish']);
const laying: ReadonlySet<WorkKind> = new Set(['coatLayer', 'glassCoat', 'wheelCoat', 'trimCoat']);

export interface ModeWish {
  readonly step: RecipeStep;
  /** Minutes at the norm's pace; of a cure by its data sheet, null. */
  readonly minutes: number | null;
  /** Places of the stay it is done in; empty where no car is needed. */
  readonly places: readonly number[];
  readonly earliest: number;
  /** Further needs the crew must meet, because the same people do other work. */
  readonly alsoNeeded: readonly CrewNeed[];
  /** Exactly these people, whatever their skills (arranged by name, or handed over to). */
  readonly only?: readonly TechnicianId[];
  /** Minutes of waiting that have passed already; unattended work only. */
  readonly since?: number;
}

export interface ModeMaker {
  /** @throws CannotPlan when nobody, nothing or no place can do it. */
  modes(car: Car, wish: ModeWish): readonly Mode[];
  /** Index of the progress function of a crew's common hours, authorised overtime included. */
  crewProgress(crew: readonly Person[], withOvertime: boolean): number;
  /** Equipment the step takes where it stands now; none where there is not enough. */
  equipmentUses(step: RecipeStep, zone: number | null): Mode['uses'];
}

/** Ways an operation can be done in some of its places. */
interface Way {
  readonly places?: readonly number[];
  readonly uses: Mode['uses'];
  readonly allowed?: readonly Interval[];
  /** Of a cure. */
  readonly cure?: { readonly work: number; readonly progress?: number };
}

export function modeMaker(frame: Frame, times: CoatingTimes): ModeMaker {
  const known = new Map<RecipeStep, Map<string, readonly Mode[]>>();
  const placeNumbers = new Map<readonly number[], number>();
  const numberOf = (places: readonly number[]) => {
    const number = placeNumbers.get(places) ?? placeNumbers.size;
    placeNumbers.set(places, number);
    return number;
  };
  const progressOf = new Map<string, number>();
  const cureProgressOf = new Map<object, number>();

  const addProgress = (progress: (typeof frame.progresses)[number]) => frame.progresses.push(progress) - 1;

  const crewProgress: ModeMaker['crewProgress'] = (crew, withOvertime) => {
    const key = `${withOvertime} ${crew.map(({ resource }) => resource).sort((a, b) => a - b)}`;
    let index = progressOf.get(key);
    if (index === undefined) {
      index = addProgress(hoursAsProgress(crewHours(crew, withOvertime)));
      progressOf.set(key, index);
    }
    return index;
  };

  const zoneOf = (place: number): number | null => frame.places[place]!.zone ?? null;

  /** Equipment pools a step can take in a zone: those fixed there, and those that go anywhere. */
  const poolChoices = (step: RecipeStep, zone: number | null): EquipmentPool[][] => {
    let choices: EquipmentPool[][] = [[]];
    for (const { kind, count } of step.equipment) {
      const fit = frame.pools.filter(
        (pool) => pool.kind === kind && pool.capacity >= count && (pool.zone === null || pool.zone === zone),
      );
      choices = choices.flatMap((chosen) => fit.map((pool) => [...chosen, pool])).slice(0, 4);
    }
    return choices;
  };

  const usesOf = (step: RecipeStep, pools: readonly EquipmentPool[]) =>
    pools.map((pool, k) => ({ resource: pool.resource, amount: step.equipment[k]!.count }));

  const waysOf = (car: Car, { step, places, minutes, since }: ModeWish): Way[] => {
    const byAir = minutes === null || laying.has(step.kind);
    const byPool = step.equipment.length > 0 && frame.pools.some(({ zone }) => zone !== null);
    const zones = [...new Set(places.map(zoneOf))];
    const groups = byAir || byPool ? zones : [zones[0] ?? null];
    const coating = step.coatingId === null ? undefined : car.coating(step.coatingId);
    return groups.flatMap((zone) => {
      const inZone = places.filter((place) => zoneOf(place) === zone);
      const whole = groups.length === 1 && inZone.length === places.length;
      const allowed = coating !== undefined && laying.has(step.kind) ? times.layingWindows(coating, zone) : undefined;
      if (allowed !== undefined && !allowed.some(({ to }) => to > frame.now)) return [];
      let cure: Way['cure'];
      if (minutes === null && step.duration.by === 'dataSheet') {
        const { work, progress } = times.cure(coating!, step.duration.item, zone);
        if (progress === null) cure = { work: Math.max(0, work - (since === undefined ? 0 : frame.now - since)) };
        else {
          if (!cureProgressOf.has(progress)) cureProgressOf.set(progress, addProgress(progress));
          cure = { work, progress: cureProgressOf.get(progress)! };
        }
      }
      const always = allowed?.length === 1 && allowed[0]!.from <= frame.now && allowed[0]!.to >= frame.horizon;
      return poolChoices(step, zone).map((pools) => ({
        ...(byAir || byPool ? (whole ? {} : { places: inZone }) : {}),
        uses: usesOf(step, pools),
        ...(allowed === undefined || always ? {} : { allowed }),
        ...(cure === undefined ? {} : { cure }),
      }));
    });
  };

  const crewsOf = (wish: ModeWish): Person[][] => {
    const need = crewNeed(wish.step);
    if (need.size === 0) return [[]];
    if (wish.only !== undefined)
      return [wish.only.map((id) => frame.personOf.get(id)!).filter((one) => one !== undefined)];
    const able = wish.alsoNeeded.reduce(
      (people, also) => {
        const too = new Set(eligible(frame, also, wish.earliest));
        return people.filter((person) => too.has(person));
      },
      eligible(frame, need, wish.earliest),
    );
    return crewsFrom(able, need.size, need.leadPreferred);
  };

  const make = (car: Car, wish: ModeWish): Mode[] => {
    const { step } = wish;
    let ways = waysOf(car, wish);
    // Where the floor has begun without what the step asks for, it goes on without.
    if (ways.length === 0 && standsAt(car, wish.places))
      ways = waysOf(car, { ...wish, step: { ...step, equipment: [] } });
    if (ways.length === 0) throw new CannotPlan(...whyNoWay(step));
    const crews = crewsOf(wish);
    const paced = step.duration.by === 'workContent' && frame.norms.kinds[step.kind].paced;
    const amount = step.attendance.kind === 'watched' ? step.attendance.sharePercent : 100;
    const modes: Mode[] = [];
    let longestStretch = 0;
    for (const crew of crews) {
      if (crew.length === 0) {
        if (step.attendance.kind !== 'unattended') continue;
        for (const way of ways) modes.push(unattendedMode(way, wish, frame.now));
        continue;
      }
      const minutes = wish.minutes ?? steadyMinutes(car, wish, times);
      const work = paced ? Math.ceil((minutes * 100) / crewPace(crew)) : minutes;
      const until = step.crew.certified && step.coatingId !== null ? certifiedUntil(crew, step.coatingId) : undefined;
      const people = crew.map(({ resource }) => ({ resource, amount }));
      const [first] = crew;
      const budget = polishing.has(step.kind) ? first!.polishingBudget : undefined;
      for (const withOvertime of overtimeChoices(crew, frame)) {
        const hours = crewHours(crew, withOvertime);
        const longest = hours.reduce((most, { from, to }) => Math.max(most, to - Math.max(from, frame.now)), 0);
        longestStretch = Math.max(longestStretch, longest);
        if (longest <= 0 || (!isPausable(step, work, frame) && longest < work)) continue;
        const progress = crewProgress(crew, withOvertime);
        for (const way of ways) {
          const allowed = until === undefined ? way.allowed : clip(way.allowed, until, frame.horizon);
          modes.push({
            work,
            progress,
            uses: [...people, ...way.uses],
            ...(budget === undefined ? {} : { budget }),
            ...(way.places === undefined ? {} : { places: way.places }),
            ...(allowed === undefined ? {} : { allowed }),
          });
        }
      }
    }
    if (modes.length === 0) throw new CannotPlan('technicians', whyNobody(step, wish, crews, longestStretch));
    return modes;
  };

  return {
    crewProgress,
    modes: (car, wish) => {
      const { step, minutes, places, earliest, alsoNeeded, only, since } = wish;
      const day = step.crew.certified ? Math.floor(earliest / 1440) : 0;
      const key = `${minutes} ${numberOf(places)} ${day} ${alsoNeeded.length > 0} ${only ?? ''} ${since ?? ''}`;
      let ofStep = known.get(step);
      if (ofStep === undefined) {
        ofStep = new Map();
        known.set(step, ofStep);
      }
      let modes = ofStep.get(key);
      if (modes === undefined) {
        modes = make(car, wish);
        ofStep.set(key, modes);
      }
      return modes;
    },
    equipmentUses: (step, zone) => usesOf(step, poolChoices(step, zone)[0] ?? []),
  };
}

/** Whether the places to choose from are just the one the car stands in. */
function standsAt(car: Car, places: readonly number[]): boolean {
  const visit = car.record.visits.at(-1);
  return places.length === 1 && visit !== undefined && car.frame.placeOf.get(visit.placeId) === places[0];
}

/** Polishing that exceeds a person's day cannot be done without a night between. */
export function isPausable(step: RecipeStep, minutes: number, frame: Frame): boolean {
  return step.pausable || (polishing.has(step.kind) && minutes > frame.book.shop.polishingLimitMinutes);
}

function unattendedMode(way: Way, { minutes, since }: ModeWish, now: number): Mode {
  const passed = since === undefined ? 0 : now - since;
  const work = way.cure === undefined ? Math.max(0, (minutes ?? 0) - passed) : way.cure.work;
  return {
    work,
    ...(way.cure?.progress === undefined ? {} : { progress: way.cure.progress }),
    uses: way.uses,
    ...(way.places === undefined ? {} : { places: way.places }),
    ...(way.allowed === undefined ? {} : { allowed: way.allowed }),
  };
}

/** A cure somebody watches is counted in minutes of the least favourable air. */
function steadyMinutes(car: Car, { step, places }: ModeWish, times: CoatingTimes): number {
  if (step.duration.by !== 'dataSheet' || step.coatingId === null) return 0;
  const zones = [...new Set(places.map((place) => car.frame.places[place]!.zone ?? null))];
  return times.minutes(car.coating(step.coatingId), step.duration.item, zones, 'longest');
}

/** Overtime is a way of its own, and only where it has been authorised. */
function overtimeChoices(crew: readonly Person[], { now, horizon }: Frame): readonly boolean[] {
  const more = measure(crewHours(crew, true), now, horizon) > measure(crewHours(crew, false), now, horizon);
  return more ? [false, true] : [false];
}

function certifiedUntil(crew: readonly Person[], coatingId: NonNullable<RecipeStep['coatingId']>): number | undefined {
  const ends = crew.map((person) => person.certifiedUntil(coatingId));
  return ends.some((end) => end === undefined) ? undefined : Math.min(...ends.map((end) => end!));
}

/** Windows up to the end of a certificate; undefined when it outlasts the horizon. */
function clip(allowed: readonly Interval[] | undefined, until: number, horizon: number) {
  if (until >= horizon) return allowed;
  const valid = [{ from: 0, to: until }];
  return allowed === undefined ? valid : intersect(allowed, valid);
}

function whyNoWay(step: RecipeStep): [string, string] {
  if (laying.has(step.kind)) {
    return [
      'airZones',
      `"${step.label}": the expected air is never fit for the coating in any place it could be laid in.`,
    ];
  }
  const kinds = step.equipment.map(({ kind, count }) => `${count} ${kind}`).join(' and ');
  return ['equipment', `"${step.label}" needs ${kinds}, which is not there in any place it could be done in.`];
}

function whyNobody(step: RecipeStep, wish: ModeWish, crews: readonly (readonly Person[])[], longest: number): string {
  const { size, skill, level, certified } = step.crew;
  if (wish.only !== undefined) return `"${step.label}": ${wish.only.join(', ')} cannot be there for it.`;
  if (crews.length > 0 && longest > 0) {
    return `"${step.label}" takes ${wish.minutes} minutes without a pause; the longest stretch that ${crews.map((crew) => crewIds(crew).join(' + ')).join(', ')} works is ${longest} minutes.`;
  }
  const can = `${skill ?? 'any skill'} at level ${level}${certified ? ' and an unexpired certificate' : ''}`;
  return `"${step.label}" needs ${size} with ${can}; nobody, or too few, have shifts for it.`;
}
