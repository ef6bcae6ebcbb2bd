import { hasSkill } from '../model/has-skill.ts';
import type { CoatingId, TechnicianId } from '../model/ids.ts';
import type { RecipeStep } from '../model/recipe.ts';
import type { Frame } from './frame.ts';
import type { Person } from './people.ts';
import { turnsOf } from './turns.ts';

/** Most crews an operation may choose from; more make the plan slower to find and hardly better. */
export const mostCrews = 12;

export interface CrewNeed {
  readonly size: number;
  readonly skill: RecipeStep['crew']['skill'];
  readonly level: number;
  /** Coating a certificate is needed for. */
  readonly coatingId: CoatingId | null;
  readonly leadPreferred: boolean;
}

export function crewNeed({ attendance, crew, coatingId }: RecipeStep): CrewNeed {
  return {
    size: attendance.kind === 'unattended' ? 0 : crew.size,
    skill: crew.skill,
    level: crew.level,
    coatingId: crew.certified ? coatingId : null,
    leadPreferred: crew.leadPreferred,
  };
}

/** People who may do it on some day from `earliest` on: skill, level, unexpired certificate. */
export function eligible(frame: Frame, need: CrewNeed, earliest: number): Person[] {
  const able: Person[] = [];
  for (const person of frame.people) if (mayDo(person, need, earliest)) able.push(person);
  return able;
}

/** People who may do all of it. */
export function eligibleForAll(frame: Frame, needs: readonly CrewNeed[], earliest: number): Person[] {
  const able: Person[] = [];
  for (const person of frame.people) if (mayDoAll(person, needs, earliest)) able.push(person);
  return able;
}

function mayDoAll(person: Person, needs: readonly CrewNeed[], earliest: number): boolean {
  for (const need of needs) if (!mayDo(person, need, earliest)) return false;
  return true;
}

function mayDo(person: Person, { skill, level, coatingId }: CrewNeed, earliest: number): boolean {
  if (!hasSkill(person.technician, skill, level)) return false;
  if (coatingId === null) return true;
  const until = person.certifiedUntil(coatingId);
  return until !== undefined && until > earliest;
}

/** The people whose turn it is, where more may do something than an operation chooses from; equal people have equal turns. */
export function onTurn(people: readonly Person[], turn: number): readonly Person[] {
  const turns = turnsOf(people.length, mostCrews);
  if (turns === 1) return people;
  const byId = [...people].sort(compareIds);
  const whoseTurn: Person[] = [];
  for (let k = turn % turns; k < byId.length; k += turns) whoseTurn.push(byId[k]!);
  return whoseTurn;
}

function compareIds(a: Person, b: Person): number {
  return a.technician.id < b.technician.id ? -1 : 1;
}

/**
 * Crews of a size out of the eligible, in the order of preference: the lead first where the recipe would rather
 * have the lead and last where not, then the quicker. Of more than `mostCrews` those are kept that come first when each
 * person in turn is given the crews that begin with him, so that nobody eligible is left out while there is room.
 */
export function crewsFrom(people: readonly Person[], size: number, leadPreferred: boolean): Person[][] {
  if (size === 0) return [[]];
  const ranked = [...people].sort(leadPreferred ? leadFirst : leadLast);
  const byFirst: Person[][][] = [];
  let longest = 0;
  for (let k = 0; k < ranked.length; k++) {
    const led = crewsLedBy(ranked, k, size);
    byFirst.push(led);
    longest = Math.max(longest, led.length);
  }
  const crews: Person[][] = [];
  for (let round = 0; crews.length < mostCrews && round < longest; round++) {
    for (const led of byFirst) if (round < led.length && crews.length < mostCrews) crews.push(led[round]!);
  }
  return crews;
}

function leadFirst(a: Person, b: Person): number {
  return Number(b.technician.lead) - Number(a.technician.lead) || quickerFirst(a, b);
}

function leadLast(a: Person, b: Person): number {
  return Number(a.technician.lead) - Number(b.technician.lead) || quickerFirst(a, b);
}

function quickerFirst(a: Person, b: Person): number {
  return b.technician.pacePercent - a.technician.pacePercent || compareIds(a, b);
}

/** Crews of one of the people and of those that come after. */
function crewsLedBy(people: readonly Person[], leader: number, size: number): Person[][] {
  const crews: Person[][] = [];
  for (const rest of combinations(people.slice(leader + 1), size - 1)) crews.push([people[leader]!, ...rest]);
  return crews;
}

function combinations(people: readonly Person[], size: number): Person[][] {
  if (size === 0) return [[]];
  const found: Person[][] = [];
  for (let k = 0; k < people.length && found.length < mostCrews; k++) found.push(...crewsLedBy(people, k, size));
  return found.slice(0, mostCrews);
}

/** A crew is as quick as its slowest. */
export function crewPace(crew: readonly Person[]): number {
  let pace = crew.length === 0 ? 100 : 1000;
  for (const { technician } of crew) pace = Math.min(pace, technician.pacePercent);
  return pace;
}

export function crewIds(crew: readonly Person[]): TechnicianId[] {
  const ids: TechnicianId[] = [];
  for (const { technician } of crew) ids.push(technician.id);
  return ids;
}
