import type { Fixed, Problem } from '../../../src/engine/problem/problem.ts';
import type { Schedule } from '../../../src/engine/problem/solution.ts';

/**
 * The same problem at a later minute, after everything planned before `now` happened as planned, except that work
 * under way will take `overrunMinutes` longer than planned.
 */
export function asOf(problem: Problem, schedule: Schedule, now: number, overrunMinutes = 0): Problem {
  return {
    ...problem,
    now,
    operations: problem.operations.map((operation, o) => {
      const planned = schedule.operations[o];
      if (planned == null || planned.start >= now) return operation;
      const end = planned.end > now ? planned.end + overrunMinutes : planned.end;
      const fixed: Fixed = { start: planned.start, mode: planned.mode, end, by: 'fact' };
      return { ...operation, fixed };
    }),
    stays: problem.stays.map((stay, s) => {
      const planned = schedule.stays[s];
      if (planned == null || planned.from >= now) return stay;
      return { ...stay, fixed: { place: planned.place, from: planned.from } };
    }),
    previous: {
      operations: schedule.operations.map((planned) =>
        planned === null ? null : { start: planned.start, mode: planned.mode },
      ),
    },
    tiers: problem.tiers.includes('change') ? problem.tiers : [...problem.tiers, 'change'],
  };
}
