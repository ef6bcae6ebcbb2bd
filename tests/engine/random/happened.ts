import type { Operation, Problem, Stay } from '../../../src/engine/problem/problem.ts';
import type { Schedule } from '../../../src/engine/problem/solution.ts';

export interface Happening {
  /** The minute it has become. */
  readonly now: number;
  /** Minutes that the work under way takes longer than it should. */
  readonly delay?: number;
  /** Minutes from `now` on in which what the plan starts is frozen. */
  readonly frozen?: number;
}

/**
 * The same problem at a later minute: what the plan had begun by then has become fact, cars stand where they came to,
 * what comes next is frozen, and the plan is the previous one.
 */
export function happenedUntil(
  problem: Problem,
  schedule: Schedule,
  { now, delay = 0, frozen = 0 }: Happening,
): Problem {
  const operations = problem.operations.map((operation, o): Operation => {
    const planned = schedule.operations[o];
    if (operation.fixed?.by === 'fact' || planned == null || planned.start >= now + frozen) return operation;
    const { start, mode } = planned;
    if (start >= now) return { ...operation, fixed: { start, mode, by: 'frozen' } };
    const end = planned.end > now && planned.end > start ? planned.end + delay : planned.end;
    return { ...operation, fixed: { start, mode, end, by: 'fact' } };
  });
  const stays = problem.stays.map((stay, s): Stay => {
    const planned = schedule.stays[s];
    if (stay.fixed !== undefined || planned == null || planned.from >= now) return stay;
    // Of cars in places that close, every other one may stand on.
    const standsOn = problem.places[planned.place]!.open !== undefined && s % 2 === 1;
    return { ...stay, fixed: { place: planned.place, from: planned.from, ...(standsOn ? { standsOn } : {}) } };
  });
  const previous = {
    operations: schedule.operations.map((planned) => planned && { start: planned.start, mode: planned.mode }),
  };
  return { ...problem, now, operations, stays, previous, tiers: [...problem.tiers, 'change'] };
}
