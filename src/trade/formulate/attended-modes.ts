import type { Interval, Mode } from '../../engine/problem/problem.ts';
import { intersect } from '../calendar/intervals.ts';
import type { RecipeStep } from '../model/recipe.ts';
import { CannotPlan, type Car } from './car.ts';
import type { CoatingTimes } from './coating-times.ts';
import type { CrewShifts } from './crew-shifts.ts';
import { crewIds, crewNeed, crewPace, crewsFrom, eligible, onTurn } from './crews.ts';
import type { Frame } from './frame.ts';
import type { ModeWish } from './modes.ts';
import { isPausable, polishing } from './pausable.ts';
import type { Person } from './people.ts';
import { turnOf } from './turns.ts';
import type { Way } from './ways.ts';

/**
 * A mode for each crew of those who are able, each of its shifts and each way.
 * @throws CannotPlan when nobody has the hours for it.
 */
export function attendedModes(
  car: Car,
  wish: ModeWish,
  ways: readonly Way[],
  able: readonly Person[],
  times: CoatingTimes,
  shifts: CrewShifts,
): Mode[] {
  const { frame } = car;
  const { step } = wish;
  const minutes = wish.minutes ?? steadyMinutes(car, wish, times);
  const paced = step.duration.by === 'workContent' && frame.norms.kinds[step.kind].paced;
  const crews = crewsOf(frame, wish, able, turnOf(car.job.id));
  const modes: Mode[] = [];
  for (const crew of crews) {
    const work = paced ? Math.ceil((minutes * 100) / crewPace(crew)) : minutes;
    const people = usesOfCrew(step, crew);
    const until = step.crew.certified && step.coatingId !== null ? certifiedUntil(crew, step.coatingId) : frame.horizon;
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
  if (modes.length === 0) throw new CannotPlan('technicians', whyNobody(wish, minutes, crews, shifts));
  return modes;
}

/** People who may do it and all else that the same crew does. */
export function ableTo(frame: Frame, { step, alsoNeeded, earliest }: ModeWish): readonly Person[] {
  let people = eligible(frame, crewNeed(step), earliest);
  for (const also of alsoNeeded) {
    const too = new Set(eligible(frame, also, earliest));
    people = people.filter((person) => too.has(person));
  }
  return people;
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

function usesOfCrew({ attendance }: RecipeStep, crew: readonly Person[]): Mode['uses'] {
  const amount = attendance.kind === 'watched' ? attendance.sharePercent : 100;
  const uses: { resource: number; amount: number }[] = [];
  for (const { resource } of crew) uses.push({ resource, amount });
  return uses;
}

/** A cure somebody watches is counted in minutes of the least favourable air. */
function steadyMinutes(car: Car, { step, places }: ModeWish, times: CoatingTimes): number {
  if (step.duration.by !== 'dataSheet' || step.coatingId === null) return 0;
  const zones = [...new Set(places.map((place) => car.frame.places[place]!.zone ?? null))];
  return times.minutes(car.coating(step.coatingId), step.duration.item, zones, 'longest');
}

/** A crew may lay a coating as long as all its certificates last; of people without one that is asked of nobody. */
function certifiedUntil(crew: readonly Person[], coatingId: NonNullable<RecipeStep['coatingId']>): number {
  let until = Number.POSITIVE_INFINITY;
  for (const person of crew) until = Math.min(until, person.certifiedUntil(coatingId) ?? until);
  return until;
}

/** Windows up to the end of a certificate; undefined when nothing limits them. */
function clip(allowed: readonly Interval[] | undefined, until: number, horizon: number) {
  if (until >= horizon) return allowed;
  const valid = [{ from: 0, to: until }];
  return allowed === undefined ? valid : intersect(allowed, valid);
}

function whyNobody({ step, only }: ModeWish, minutes: number, crews: readonly Person[][], shifts: CrewShifts): string {
  const { size, skill, level, certified } = step.crew;
  if (only !== undefined) return `"${step.label}": ${only.join(', ')} cannot be there for it.`;
  const longest = Math.max(0, ...crews.flatMap((crew) => shifts.shiftsOf(crew).map((shift) => shift.longestStretch)));
  if (longest > 0) {
    const names = crews.map((crew) => crewIds(crew).join(' + ')).join(', ');
    return `"${step.label}" takes ${minutes} minutes without a pause; the longest stretch that ${names} works is ${longest} minutes.`;
  }
  const can = `${skill ?? 'any skill'} at level ${level}${certified ? ' and an unexpired certificate' : ''}`;
  return `"${step.label}" needs ${size} with ${can}; nobody, or too few, have shifts for it.`;
}
