import type { Problem } from '../../../src/engine/problem/problem.ts';

/** The same shop, where a minute in a bay costs 4, in each second space of the yard 1 and in the others nothing, as the last tier. */
export function withStandingCosts(problem: Problem): Problem {
  const places = problem.places.map((place, p) => ({
    ...place,
    standingCost: place.name.includes('bay') ? 4 : p % 2,
  }));
  return { ...problem, places, tiers: [...problem.tiers, 'standing'] };
}
