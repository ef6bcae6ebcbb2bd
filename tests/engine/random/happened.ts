import type { Fixed, Operation, Problem, Stay } from '../../../src/engine/problem/problem.ts';
import type { PlannedOperation, Schedule } from '../../../src/engine/problem/solution.ts';

/**
 * The same problem at a later minute: what the plan had begun by then has become fact, cars stand where they came to, and
 * the plan is the previous one. Work under way takes `delay` minutes longer than it should.
 */
export function happenedUntil(problem: Problem, schedule: Schedule, now: number, delay = 0): Problem {
  const begun = (planned: PlannedOperation | null | undefined): planned is PlannedOperation =>
    planned != null && planned.start < now;
  const operations = problem.operations.map((operation, o): Operation => {
    const planned = schedule.operations[o];
    if (operation.fixed?.by === 'fact' || !begun(planned)) return operation;
    const { start, mode } = planned;
    const end = planned.end > now && planned.end > start ? planned.end + delay : planned.end;
    const fixed: Fixed = { start, mode, end, by: 'fact' };
    return { ...operation, fixed };
  });
  const stays = problem.stays.map((stay, s): Stay => {
    const planned = schedule.stays[s];
    if (stay.fixed !== undefined || planned == null || planned.from >= now) return stay;
    return { ...stay, fixed: { place: planned.place, from: planned.from } };
  });
  const previous = {
    operations: schedule.operations.map((planned) => planned && { start: planned.start, mode: planned.mode }),
  };
  return { ...problem, now, operations, stays, previous, tiers: [...problem.tiers, 'change'] };
}
