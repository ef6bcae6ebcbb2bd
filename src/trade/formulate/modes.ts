import type { Interval, Mode } from '../../engine/problem/problem.ts';
import { intersect } from '../calendar/intervals.ts';
import type { TechnicianId } from '../model/ids.ts';
import type { RecipeStep, WorkKind } from '../model/recipe.ts';
import { CannotPlan, type Car } from './car.ts';
import type { CoatingTimes } from './coating-times.ts';
import { crewShifts } from './crew-shifts.ts';
import { type CrewNeed, crewIds, crewNeed, crewPace, crewsFrom, eligible, mostCrews, onTurn } from './crews.ts';
import type { Frame } from './frame.ts';
import type { Person } from './people.ts';
import { turnOf, turnsOf } from './turns.ts';
import { type Way, wayFinder } from './ways.ts';

const polishing: ReadonlySet<WorkKind> = new Set(['testSpot', 'compound', 'finishPolish']);

export interface ModeWish {
  readonly step: RecipeStep;
  /** Minutes at the norm's pace; of a cure by its data sheet, null. */
  readonly minutes: number | null;
  /** Places of the stay it is done in; empty where no car is needed. Equal lists are one list, by identity. */
  readonly places: readonly number[];
  readonly earliest: number;
  /** Further needs the crew must meet, because the same people do other work. */
  readonly alsoNeeded: readonly CrewNeed[];
  /** Exactly these people, whatever their skills (arranged by name, or handed over to). */
  readonly only?: readonly TechnicianId[];
  /** Somebody who is to be in the crew. */
  readonly including?: TechnicianId;
  /** Minute since which unattended waiting has been going on already. */
  readonly since?: number;
}

export interface ModeMaker {
  /** @throws CannotPlan when nobody, nothing or no place can do it. */
  modes(car: Car, wish: ModeWish): readonly Mode[];
  /** Index of the progress function of a crew's common hours, authorised overtime included. */
  crewProgress(crew: readonly Person[]): number;
  /** Equipment a step takes in a zone; none where there is not enough. */
  equipmentUses(step: RecipeStep, zone: number | null): Mode['uses'];
}

/** Makes the ways an operation can be done: who, where, with what, in which hours. Equal questions get one answer. */
export function modeMaker(frame: Frame, times: CoatingTimes): ModeMaker {
  const finder = wayFinder(frame, times);
  const shifts = crewShifts(frame);
  const modesOf = onceForEach<readonly Mode[]>();
  const ableFor = onceForEach<readonly Person[]>();
  const placeNumbers = new Map<readonly number[], number>();
  const numberOf = (places: readonly number[]) => {
    const number = placeNumbers.get(places) ?? placeNumbers.size;
    placeNumbers.set(places, number);
    return number;
  };

  const dayOf = ({ step, earliest }: ModeWish) => (step.crew.certified ? Math.floor(earliest / 1440) : 0);
  const able = (wish: ModeWish) =>
    ableFor(wish.step, `${dayOf(wish)} ${wish.alsoNeeded.length > 0}`, () => ableTo(frame, wish));

  const attended = (car: Car, wish: ModeWish, ways: readonly Way[]): Mode[] => {
    const { step } = wish;
    const minutes = wish.minutes ?? steadyMinutes(car, wish, times);
    const paced = step.duration.by === 'workContent' && frame.norms.kinds[step.kind].paced;
    const amount = step.attendance.kind === 'watched' ? step.attendance.sharePercent : 100;
    const crews = crewsOf(frame, wish, able(wish), turnOf(car.job.id));
    const modes: Mode[] = [];
    for (const crew of crews) {
      const work = paced ? Math.ceil((minutes * 100) / crewPace(crew)) : minutes;
      const people = crew.map(({ resource }) => ({ resource, amount }));
      const until =
        step.crew.certified && step.coatingId !== null ? certifiedUntil(crew, step.coatingId) : frame.horizon;
      // A mode draws on one budget: of a crew, on that of whoever leads it.
      const budget = polishing.has(step.kind) ? crew[0]!.polishingBudget : undefined;
      for (const { progress, longestStretch } of shifts.shiftsOf(crew)) {
        if (longestStretch <= 0 || (!isPausable(step, work, frame) && longestStretch < work)) continue;
        for (const way of ways) {
          const allowed = clip(way.allowed, until, frame.horizon);
          const mode: { -readonly [K in keyof Mode]: Mode[K] } = { work, progress, uses: [...people, ...way.uses] };
          if (budget !== undefined) mode.budget = budget;
          if (way.places !== undefined) mode.places = way.places;
          if (allowed !== undefined) mode.allowed = allowed;
          modes.push(mode);
        }
      }
    }
    if (modes.length > 0) return modes;
    const longest = Math.max(0, ...crews.flatMap((crew) => shifts.shiftsOf(crew).map((shift) => shift.longestStretch)));
    throw new CannotPlan('technicians', whyNobody(wish, minutes, crews, longest));
  };

  const make = (car: Car, wish: ModeWish): Mode[] => {
    const ways = finder.ways(car, wish);
    if (wish.step.attendance.kind !== 'unattended') return attended(car, wish, ways);
    return ways.map((way) => unattendedMode(way, wish, frame.now));
  };

  return {
    crewProgress: shifts.fullProgress,
    equipmentUses: finder.equipmentUses,
    modes: (car, wish) => {
      const { step, minutes, places, alsoNeeded, only, including, since } = wish;
      const turns = step.attendance.kind === 'unattended' ? 1 : turnsOf(able(wish).length, mostCrews);
      const turn = turns === 1 ? 0 : turnOf(car.job.id) % turns;
      const key = `${minutes} ${numberOf(places)} ${dayOf(wish)} ${turn} ${alsoNeeded.length > 0} ${only ?? ''} ${including ?? ''} ${since ?? ''}`;
      return modesOf(step, key, () => make(car, wish));
    },
  };
}

/** What is made once for each step and further question, and then remembered. */
function onceForEach<T>(): (step: RecipeStep, question: string, make: () => T) => T {
  const known = new Map<RecipeStep, Map<string, T>>();
  return (step, question, make) => {
    let ofStep = known.get(step);
    if (ofStep === undefined) {
      ofStep = new Map();
      known.set(step, ofStep);
    }
    let made = ofStep.get(question);
    if (made === undefined) {
      made = make();
      ofStep.set(question, made);
    }
    return made;
  };
}

/** Polishing that exceeds a person's day cannot be done without a night between. */
export function isPausable(step: RecipeStep, minutes: number, frame: Frame): boolean {
  return step.pausable || (polishing.has(step.kind) && minutes > frame.book.shop.polishingLimitMinutes);
}

/** People who may do it and all else that the same crew does. */
function ableTo(frame: Frame, { step, alsoNeeded, earliest }: ModeWish): readonly Person[] {
  return alsoNeeded.reduce(
    (people, also) => {
      const too = new Set(eligible(frame, also, earliest));
      return people.filter((person) => too.has(person));
    },
    eligible(frame, crewNeed(step), earliest),
  );
}

function crewsOf(frame: Frame, { step, only, including }: ModeWish, able: readonly Person[], turn: number): Person[][] {
  if (only !== undefined) {
    const crew = only.map((id) => frame.personOf.get(id)).filter((person) => person !== undefined);
    return crew.length === 0 ? [] : [crew];
  }
  const { size, leadPreferred } = crewNeed(step);
  if (including === undefined) {
    return crewsFrom(onTurn(able, turn), size, leadPreferred).filter((crew) => crew.length > 0);
  }
  const wanted = able.find(({ technician }) => technician.id === including);
  if (wanted === undefined || size === 0) return [];
  const others = able.filter((person) => person !== wanted);
  return crewsFrom(onTurn(others, turn), size - 1, leadPreferred).map((crew) => [wanted, ...crew]);
}

function unattendedMode(way: Way, { minutes, since }: ModeWish, now: number): Mode {
  const passed = since === undefined ? 0 : now - since;
  return {
    work: way.cure === undefined ? Math.max(0, (minutes ?? 0) - passed) : way.cure.work,
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

/** A crew may lay a coating as long as all its certificates last; of people without one that is asked of nobody. */
function certifiedUntil(crew: readonly Person[], coatingId: NonNullable<RecipeStep['coatingId']>): number {
  return crew.reduce(
    (until, person) => Math.min(until, person.certifiedUntil(coatingId) ?? Number.POSITIVE_INFINITY),
    Number.POSITIVE_INFINITY,
  );
}

/** Windows up to the end of a certificate; undefined when nothing limits them. */
function clip(allowed: readonly Interval[] | undefined, until: number, horizon: number) {
  if (until >= horizon) return allowed;
  const valid = [{ from: 0, to: until }];
  return allowed === undefined ? valid : intersect(allowed, valid);
}

function whyNobody({ step, only }: ModeWish, minutes: number, crews: readonly Person[][], longest: number): string {
  const { size, skill, level, certified } = step.crew;
  if (only !== undefined) return `"${step.label}": ${only.join(', ')} cannot be there for it.`;
  if (longest > 0) {
    const names = crews.map((crew) => crewIds(crew).join(' + ')).join(', ');
    return `"${step.label}" takes ${minutes} minutes without a pause; the longest stretch that ${names} works is ${longest} minutes.`;
  }
  const can = `${skill ?? 'any skill'} at level ${level}${certified ? ' and an unexpired certificate' : ''}`;
  return `"${step.label}" needs ${size} with ${can}; nobody, or too few, have shifts for it.`;
}
