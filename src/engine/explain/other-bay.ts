import type { Problem } from '../problem/problem.ts';
import type { Nearest } from './nearest.ts';

/** A stay, and the work done in it, allowed in one place more; undefined when it may take it already, or is a fact. */
export function otherBay(problem: Problem, stay: number, place: number): Nearest | undefined {
  const { places, fixed, job } = problem.stays[stay]!;
  if (fixed !== undefined || places.includes(place)) return undefined;
  const stays = problem.stays.map((other, s) => (s === stay ? { ...other, places: [...places, place] } : other));
  const operations = problem.operations.map((operation) => {
    if (operation.stay !== stay) return operation;
    const modes = operation.modes.map((mode) => (mode.places ? { ...mode, places: [...mode.places, place] } : mode));
    return { ...operation, modes };
  });
  const names = operations.filter((operation) => operation.stay === stay).map(({ name }) => `"${name}"`);
  const work = names.length > 0 ? names.join(', ') : 'the wait';
  const text = `Let ${work} of "${problem.jobs[job]!.name}" be done in "${problem.places[place]!.name}", if that can be.`;
  return { text, relaxed: { ...problem, stays, operations } };
}
