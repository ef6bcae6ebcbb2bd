import type { CoatingId, TechnicianId } from '../model/ids.ts';
import { hasSkill } from '../model/people.ts';
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
  return frame.people.filter((person) => {
    if (!hasSkill(person.technician, need.skill, need.level)) return false;
    if (need.coatingId === null) return true;
    const until = person.certifiedUntil(need.coatingId);
    return until !== undefined && until > earliest;
  });
}

/** The people whose turn it is, where more may do something than an operation chooses from; equal people have equal turns. */
export function onTurn(people: readonly Person[], turn: number): readonly Person[] {
  const turns = turnsOf(people.length, mostCrews);
  if (turns === 1) return people;
  const byId = [...people].sort((a, b) => (a.technician.id < b.technician.id ? -1 : 1));
  return byId.filter((_, k) => k % turns === turn % turns);
}

/**
 * Crews of a size out of the eligible, in the order of preference: the lead first where the recipe would rather
 * have the lead and last where not, then the quicker. Of more than `mostCrews` those are kept that come first when each
 * person in turn is given the crews that begin with him, so that nobody eligible is left out while there is room.
 */
export function crewsFrom(people: readonly Person[], size: number, leadPreferred: boolean): Person[][] {
  if (size === 0) return [[]];
  const ranked = [...people].sort(
    (a, b) =>
      (leadPreferred ? 1 : -1) * (Number(b.technician.lead) - Number(a.technician.lead)) ||
      b.technician.pacePercent - a.technician.pacePercent ||
      (a.technician.id < b.technician.id ? -1 : 1),
  );
  const byFirst = ranked.map((first, k) => combinations(ranked.slice(k + 1), size - 1).map((rest) => [first, ...rest]));
  const crews: Person[][] = [];
  for (let round = 0; crews.length < mostCrews && byFirst.some((list) => round < list.length); round++) {
    for (const list of byFirst) if (round < list.length && crews.length < mostCrews) crews.push(list[round]!);
  }
  return crews;
}

function combinations(people: readonly Person[], size: number): Person[][] {
  if (size === 0) return [[]];
  const found: Person[][] = [];
  people.forEach((first, k) => {
    for (const rest of combinations(people.slice(k + 1), size - 1)) {
      found.push([first, ...rest]);
      if (found.length >= mostCrews) return;
    }
  });
  return found.slice(0, mostCrews);
}

/** A crew is as quick as its slowest. */
export function crewPace(crew: readonly Person[]): number {
  return crew.reduce((pace, { technician }) => Math.min(pace, technician.pacePercent), crew.length === 0 ? 100 : 1000);
}

export function crewIds(crew: readonly Person[]): TechnicianId[] {
  return crew.map(({ technician }) => technician.id);
}
