import { check } from '../../engine/check/check.ts';
import type { Violation } from '../../engine/check/violation.ts';
import type { Problem } from '../../engine/problem/problem.ts';
import type { Schedule } from '../../engine/problem/solution.ts';
import { realise } from '../../promise/simulate/realise.ts';
import type { ExecutionRules } from '../../promise/simulate/simulation-input.ts';
import type { Formulation } from '../../trade/formulate/formulation.ts';
import type { Plan } from '../../trade/model/plan.ts';
import { warmStartOf } from './warm-start.ts';

type Queues = ExecutionRules['queues'];
const QUEUES: readonly Queues[] = ['inPlannedOrder', 'fillingGaps'];

/** Work takes what is planned, in its people's hours, and nothing begins before the plan has it. */
const AS_PLANNED = { starts: 'notBeforePlanned', stayOnMinutes: 0, graceMinutes: 0, dayLogDeviation: 0 } as const;
/** Rules of the checker that say so. */
const IS_MISSING: ReadonlySet<string> = new Set(['branch', 'missing', 'fixed-missing', 'stay-missing', 'move-missing']);
const PLANNED = { logMean: 0, logDeviation: 0 };

/**
 * Schedules from which a book to which something has happened since its plan can be gone on with: the plan as it stands, where nothing
 * stands against it to the minute; else that one, of which whoever goes on from it withdraws the jobs that break a rule, and the plan
 * carried on, with everybody keeping their turn or filling gaps. Which is best only planning from each tells.
 */
export function waysToGoOn(formulation: Formulation, plan: Plan): readonly Schedule[] {
  const standing = warmStartOf(formulation, plan);
  const against = check(formulation.problem, standing);
  if (against.length === 0) return [standing];
  const incomplete = jobsIncomplete(formulation.problem, standing, against);
  return [standing, ...QUEUES.map((queues) => carriedOn(formulation.problem, standing, incomplete, queues))];
}

/**
 * Whatever ran over pushes what waits for it, for its people or its place, no further than it must; the others keep their minutes
 * (right-shift repair, Abumaizar and Svestka 1997). Of jobs of which something is missing only what is under way has a part in it. It may
 * still break a rule.
 */
function carriedOn(problem: Problem, standing: Schedule, incomplete: ReadonlySet<number>, queues: Queues): Schedule {
  const schedule = without(problem, standing, incomplete, 'but facts');
  const factors = new Array<typeof PLANNED>(problem.operations.length).fill(PLANNED);
  const rules = { ...AS_PLANNED, queues };
  const carried = realise({ problem, schedule, factors, rules, scenarios: 1, seed: 1 }, 0).schedule;
  const leftOut = new Set(incomplete);
  for (let o = 0; o < problem.operations.length; o++) {
    if ((carried.operations[o]?.end ?? 0) > problem.horizon) leftOut.add(problem.operations[o]!.job);
  }
  return without(problem, carried, leftOut);
}

/** Jobs of which the schedule lacks something that they need. */
function jobsIncomplete(problem: Problem, standing: Schedule, against: readonly Violation[]): ReadonlySet<number> {
  const incomplete = new Set<number>();
  for (const { rule, operations, stays } of against) {
    if (!IS_MISSING.has(rule)) continue;
    for (const o of operations) incomplete.add(problem.operations[o]!.job);
    for (const s of stays) incomplete.add(problem.stays[s]!.job);
  }
  for (let o = 0; o < problem.operations.length; o++) {
    const { job, stay } = problem.operations[o]!;
    if (standing.operations[o] != null && stay !== undefined && standing.stays[stay] == null) incomplete.add(job);
  }
  return incomplete;
}

/** A schedule without some jobs; `but facts`: what happens to them now goes on taking up people and places. */
function without(
  problem: Problem,
  { operations, stays }: Schedule,
  leftOut: ReadonlySet<number>,
  but?: 'but facts',
): Schedule {
  const rest = { operations: operations.slice(), stays: stays.slice() };
  for (let o = 0; o < operations.length; o++) {
    const { job, fixed } = problem.operations[o]!;
    if (leftOut.has(job) && (but === undefined || fixed?.by !== 'fact')) rest.operations[o] = null;
  }
  for (let s = 0; s < stays.length; s++) {
    const { job, fixed } = problem.stays[s]!;
    if (leftOut.has(job) && (but === undefined || fixed?.from === undefined)) rest.stays[s] = null;
  }
  return rest;
}
