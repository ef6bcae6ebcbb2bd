import { check } from '../../../src/engine/check/check.ts';
import { measure } from '../../../src/engine/check/objective.ts';
import type { Problem } from '../../../src/engine/problem/problem.ts';
import type { Objective, Schedule } from '../../../src/engine/problem/solution.ts';
import { solve } from '../../../src/engine/solve.ts';
import type { Clock } from '../figures/clock.ts';
import { type DispatchRule, dispatch } from './dispatch-rule.ts';

/** How good a plan is, and whether it obeys the rules. */
export interface PlanFigures {
  /** Tiers as the independent checker measures them; null when there is no whole plan. */
  readonly objective: Objective | null;
  readonly violations: number;
  readonly ms: number;
  /** Jobs without a plan. */
  readonly unplanned: number;
  /** Jobs picked up after what was promised or wanted. */
  readonly late: number;
}

export interface BookFigures {
  readonly operations: number;
  /** Jobs that the bound says must break their promises, and so on: by tier. */
  readonly bound: Objective;
  readonly first: PlanFigures;
  /** By the seconds asked for, the plan at hand then. */
  readonly after: readonly PlanFigures[];
  readonly rules: Readonly<Record<DispatchRule, PlanFigures>>;
}

/** Plans one book from nothing, on this thread, and watches how the plan gets better; by the rules only if asked. */
export function measureBook(
  problem: Problem,
  seed: number,
  seconds: readonly number[],
  clock: Clock,
  withRules: boolean,
): BookFigures {
  const none = figuresOf(problem, null, 0, problem.jobs.length);
  const rules = {
    'earliest promise': withRules ? byRule(problem, 'earliest promise', clock) : none,
    'bottleneck work': withRules ? byRule(problem, 'bottleneck work', clock) : none,
  };
  const plans: { readonly ms: number; readonly schedule: Schedule }[] = [];
  const atHand: (Schedule | null)[] = seconds.map(() => null);
  const longest = Math.max(0, ...seconds) * 1000;
  const began = clock();
  const solution = solve(problem, {
    seed,
    workLimit: longest > 0 ? Number.POSITIVE_INFINITY : 0,
    timeLimitMs: longest,
    clock,
    onProgress: ({ schedule }) => {
      const ms = clock() - began;
      if (plans.length === 0) plans.push({ ms, schedule });
      for (const [k, limit] of seconds.entries()) if (ms <= limit * 1000) atHand[k] = schedule;
    },
  });
  const ended = clock() - began;
  const first = plans[0];
  return {
    operations: problem.operations.length,
    bound: solution.bound,
    first: figuresOf(problem, first?.schedule ?? null, first?.ms ?? ended, problem.jobs.length),
    after: seconds.map((limit, k) => figuresOf(problem, atHand[k]!, limit * 1000, problem.jobs.length)),
    rules,
  };
}

function byRule(problem: Problem, rule: DispatchRule, clock: Clock): PlanFigures {
  const { schedule, unplanned, ms } = dispatch(problem, rule, clock);
  return figuresOf(problem, unplanned > 0 ? null : schedule, ms, unplanned);
}

function figuresOf(problem: Problem, schedule: Schedule | null, ms: number, without: number): PlanFigures {
  if (schedule === null) return { objective: null, violations: 0, ms, unplanned: without, late: 0 };
  return {
    objective: measure(problem, schedule),
    violations: check(problem, schedule).length,
    ms,
    unplanned: 0,
    late: problem.jobs.filter((_, j) => isLate(problem, schedule, j)).length,
  };
}

function isLate(problem: Problem, schedule: Schedule, j: number): boolean {
  const { handover, ready, promise, due } = problem.jobs[j]!;
  const at = handover === undefined ? schedule.operations[ready!]!.end : schedule.operations[handover]!.start;
  return at > Math.min(promise?.at ?? at, due?.at ?? at);
}
