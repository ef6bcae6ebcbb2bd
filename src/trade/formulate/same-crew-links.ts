import type { Mode, Operation } from '../../engine/problem/problem.ts';
import type { RecipeLag } from '../model/recipe.ts';
import type { Car } from './car.ts';
import type { JobWork } from './job-work.ts';
import type { ProblemDraft } from './problem-draft.ts';
import type { StepInstance } from './step-instance.ts';
import type { Round, Window } from './windows.ts';

/**
 * Ensures that the same people do what the recipe links so, where somebody can. Held people are held only from work
 * still to come: what has been done already may lie in a shift that is over.
 */
export function linkSameCrews(car: Car, work: JobWork, draft: ProblemDraft): void {
  for (const { lag, from, to } of work.order.bounds) {
    if (lag.sameCrew === 'no') continue;
    const rounds = roundsOf(lag, work.windows);
    if (!rounds.some(isPresent)) link(car, work, draft, from, to, lag.sameCrew === 'held');
    const last = rounds.at(-1)?.instances.at(-1);
    if (last !== undefined) link(car, work, draft, last, to, false);
  }
}

function roundsOf(lag: RecipeLag, windows: readonly Window[]): readonly Round[] {
  for (const { bound, rounds } of windows) if (bound.lag === lag) return rounds;
  return [];
}

function isPresent({ presence }: Round): boolean {
  return presence === 'present';
}

function link(
  car: Car,
  { written }: JobWork,
  draft: ProblemDraft,
  from: StepInstance,
  to: StepInstance,
  held: boolean,
): void {
  const first = written.get(from)!.last;
  const second = written.get(to)!.first;
  const before = draft.operations[first]!;
  const after = draft.operations[second]!;
  if (after.fixed?.by === 'fact') return;
  if (haveCrewInCommon(before, after, car.frame.people.length)) {
    draft.sameCrew.push({ first, second, held: held && before.fixed?.by !== 'fact' });
    return;
  }
  const text = `"${from.step.label}" and "${to.step.label}" are for the same people, and nobody can do both.`;
  car.notices.push({ kind: 'sameCrewImpossible', jobId: car.job.id, operation: to.key, text });
}

function haveCrewInCommon(before: Operation, after: Operation, people: number): boolean {
  const crews = new Set<string>();
  for (const mode of before.modes) crews.add(crewOf(mode, people));
  for (const mode of after.modes) {
    const crew = crewOf(mode, people);
    if (crew !== '' && crews.has(crew)) return true;
  }
  return false;
}

/** Who does it, as a text: of the resources the first are the people. */
function crewOf({ uses }: Mode, people: number): string {
  const crew: number[] = [];
  for (const { resource } of uses) if (resource < people) crew.push(resource);
  return crew.sort(ascending).join();
}

function ascending(a: number, b: number): number {
  return a - b;
}
