import { DistanceCost } from '../constraints/cost-by-start.ts';
import { StartCost } from '../constraints/start-cost.ts';
import type { Term } from '../constraints/weighted-sum.ts';
import type { Problem } from '../problem/problem.ts';
import { crewOf } from './crews.ts';
import { isFact } from './facts.ts';
import type { Model } from './model.ts';
import { mayBe } from './modelled-operation.ts';

/** What a changed crew costs, in minutes by which a start moves. */
const CREW_CHANGE_MINUTES = 60;

/** What the plan changes of the previous one: by operation, minutes by which its start moves, and its crew. */
export function addChange(problem: Problem, { solver, operations }: Model): Term[] {
  return (problem.previous?.operations ?? []).flatMap((before, o): Term[] => {
    if (before === null || isFact(problem, o)) return [];
    const { start, modes, presence } = operations[o]!;
    const crew = crewOf(problem, o, before.mode);
    const costed = modes.flatMap((mode, m) => {
      const besides = crewOf(problem, o, m) === crew ? 0 : CREW_CHANGE_MINUTES;
      if (!mayBe(solver.bounds, mode)) return [];
      return [{ presence: mode.presence, cost: new DistanceCost(before.start, besides) }];
    });
    if (costed.length === 0) return [];
    const most = CREW_CHANGE_MINUTES + Math.max(before.start, solver.bounds.max(start));
    const cost = solver.bounds.newVariable(0, most);
    new StartCost(solver, start, cost, costed, presence);
    return [{ half: cost, weight: 1 }];
  });
}
