import type { Problem } from '../problem/problem.ts';

/**
 * The problem as if each of some places held any number of cars: every job gets the place to itself, as a copy that is
 * always open and that nothing blocks, in the same air.
 */
export function withoutPlaces(problem: Problem, leftOut: ReadonlySet<number>): Problem {
  if (leftOut.size === 0) return problem;
  const places = problem.places.map((place) => ({
    ...place,
    blockedBy: place.blockedBy.filter((blocker) => !leftOut.has(blocker)),
  }));
  const copies = new Map<number, number[]>();
  for (const place of leftOut) {
    const { open: _, ...always } = problem.places[place]!;
    copies.set(
      place,
      problem.jobs.map(() => places.push({ ...always, turnaround: 0, blockedBy: [] }) - 1),
    );
  }
  const ownCopy = (place: number, job: number) => copies.get(place)?.[job] ?? place;
  return {
    ...problem,
    places,
    takenPlaces: problem.takenPlaces.filter(({ place }) => !leftOut.has(place)),
    stays: problem.stays.map((stay) => ({
      ...stay,
      places: stay.places.map((place) => ownCopy(place, stay.job)),
      ...(stay.fixed ? { fixed: { ...stay.fixed, place: ownCopy(stay.fixed.place, stay.job) } } : {}),
    })),
    operations: problem.operations.map((operation) => ({
      ...operation,
      modes: operation.modes.map((mode) =>
        mode.places ? { ...mode, places: mode.places.map((place) => ownCopy(place, operation.job)) } : mode,
      ),
    })),
  };
}
