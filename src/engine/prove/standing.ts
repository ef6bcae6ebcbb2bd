import { type Term, WeightedSum } from '../constraints/weighted-sum.ts';
import type { Problem } from '../problem/problem.ts';
import type { Model } from './model.ts';
import { latestMinute } from './stays.ts';

/** Terms that add up to minutes of stays times what a minute in their places costs. */
export function addStanding(problem: Problem, { solver, logic, itineraries }: Model): Term[] {
  const terms: Term[] = [];
  const most = latestMinute(problem);
  for (const { places, from, to } of itineraries.flatMap(({ stays }) => stays)) {
    const dear = places.filter(({ place }) => (problem.places[place]!.standingCost ?? 0) > 0);
    if (dear.length === 0) continue;
    const lasts = solver.bounds.newVariable(-most, most);
    const ends: Term[] = [
      { half: to.half, weight: 1 },
      { half: from.half ^ 1, weight: 1 },
    ];
    new WeightedSum(solver, ends, lasts, to.offset - from.offset);
    for (const { place, chosen } of dear) {
      const there = solver.bounds.newVariable(0, most);
      logic.lag({ half: lasts, offset: 0 }, { half: there, offset: 0 }, 0, [chosen]);
      terms.push({ half: there, weight: problem.places[place]!.standingCost! });
    }
  }
  return terms;
}
