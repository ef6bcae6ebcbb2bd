import type { Mode, Problem } from '../../engine/problem/problem.ts';
import type { Schedule } from '../../engine/problem/solution.ts';

/**
 * The way to do a remedy that asks for nobody new: the people of the first of some other work whose people can do it where its car
 * is, or else the first way that can be done there.
 */
export function sameWay(problem: Problem, schedule: Schedule, remedy: number, others: readonly number[]): number {
  const { modes, stay } = problem.operations[remedy]!;
  const place = stay === undefined ? undefined : schedule.stays[stay]?.place;
  for (const other of others) {
    const crew = peopleOf(problem, problem.operations[other]!.modes[schedule.operations[other]!.mode]!);
    for (let m = 0; m < modes.length; m++) {
      if (fits(modes[m]!, place) && areSame(peopleOf(problem, modes[m]!), crew)) return m;
    }
  }
  for (let m = 0; m < modes.length; m++) if (fits(modes[m]!, place)) return m;
  return 0;
}

const fits = ({ places }: Mode, place: number | undefined): boolean =>
  place === undefined || places === undefined || places.includes(place);

function peopleOf({ resources }: Problem, { uses }: Mode): number[] {
  const people: number[] = [];
  for (const { resource } of uses) if (resources[resource]!.kind === 'person') people.push(resource);
  return people.length < 2 ? people : people.sort(ascending);
}

const ascending = (a: number, b: number): number => a - b;

function areSame(one: readonly number[], other: readonly number[]): boolean {
  if (one.length !== other.length) return false;
  for (let k = 0; k < one.length; k++) if (one[k] !== other[k]) return false;
  return true;
}
