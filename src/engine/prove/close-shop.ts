import { compareTiers } from '../improve/tiers.ts';
import type { Problem } from '../problem/problem.ts';
import type { Objective, Solution } from '../problem/solution.ts';
import type { SolveOptions } from '../solve-options.ts';
import { conflictSet } from './conflict-set.ts';
import type { Exchange } from './exchange.ts';
import { isFact } from './facts.ts';
import { provable } from './provable.ts';
import { prove } from './prove.ts';
import { BALANCED } from './strategy.ts';

/** More work than this that is still to be decided, and construction finds better plans in the time. */
const MOST_OPERATIONS = 150;
/** Budgets below this are for a plan at once, and would be spent on building the model. */
const LEAST_WORK = 20_000;
/** So many milliseconds at least, since building the model of a large book takes a good part of a second. */
const LEAST_MS = 1500;
/** The planner's share of the budget. */
const PLANNER_SHARE = 0.25;
/** A unit of the planner's work, one candidate start looked at, takes as long as so many of the proof's. */
const PROOF_WORK = 20;

/**
 * Plans a shop and, where it is small enough and the budget allows, goes on from the plan with a proof: towards the best
 * plan and a bound for every tier, or towards a proof that there is none, with the parts that contradict one another.
 */
export function closeShop(
  problem: Problem,
  options: SolveOptions,
  plan: (problem: Problem, options: SolveOptions) => Solution,
): Solution {
  const { clock, timeLimitMs = Number.POSITIVE_INFINITY } = options;
  if (options.workLimit < LEAST_WORK || timeLimitMs < LEAST_MS || !isSmall(problem)) return plan(problem, options);
  const until = (clock?.() ?? 0) + timeLimitMs;
  const planned = plan(problem, {
    ...options,
    workLimit: Math.floor(options.workLimit * PLANNER_SHARE),
    ...(options.timeLimitMs === undefined ? {} : { timeLimitMs: options.timeLimitMs * PLANNER_SHARE }),
  });
  const left = options.workLimit - planned.work;
  if (planned.status === 'optimal' || left <= 0 || options.cancelled?.() || (clock?.() ?? 0) >= until) return planned;
  const proofOptions = {
    ...options,
    workLimit: left * PROOF_WORK,
    ...(clock === undefined ? {} : { timeLimitMs: until - clock() }),
    ...(planned.schedule === null ? {} : { warmStart: planned.schedule }),
    ...withProgress(options, planned),
  };
  const proof = prove(problem, proofOptions, BALANCED, knowing(planned.bound));
  const work = planned.work + Math.ceil(proof.work / PROOF_WORK);
  const interrupted = planned.interrupted || proof.interrupted;
  if (proof.status === 'infeasible') {
    const cancelled = () => options.cancelled?.() === true || (clock !== undefined && clock() >= until);
    const { conflict, work: explained } = conflictSet(problem, {
      seed: options.seed,
      workLimit: (options.workLimit - work) * PROOF_WORK,
      cancelled,
    });
    const all = work + Math.ceil(explained / PROOF_WORK);
    return { ...proof, bound: planned.bound, conflict, work: all, interrupted: interrupted || cancelled() };
  }
  const isBetter =
    planned.objective === null || (proof.objective && compareTiers(proof.objective, planned.objective) < 0);
  const best = proof.objective !== null && (isBetter || proof.status === 'optimal') ? proof : planned;
  const bound = proof.bound.map((least, tier) => Math.max(least, planned.bound[tier]!));
  return { ...best, bound: best.status === 'optimal' ? best.bound : bound, work, interrupted };
}

/** The proof tells of schedules better than the plan only. */
function withProgress({ onProgress }: SolveOptions, planned: Solution): Pick<SolveOptions, 'onProgress'> {
  if (onProgress === undefined) return {};
  return {
    onProgress: (progress) => {
      if (planned.objective !== null && compareTiers(progress.objective, planned.objective) >= 0) return;
      onProgress({ ...progress, work: planned.work + Math.ceil(progress.work / PROOF_WORK) });
    },
  };
}

/** What is known of the tiers already, as if another proof had told it. */
function knowing(bound: Objective): Exchange {
  return {
    hasNews: () => false,
    newest: () => undefined,
    bound: (tier) => bound[tier]!,
    tellBound: () => {},
    tellIncumbent: () => {},
  };
}

function isSmall(problem: Problem): boolean {
  const open = problem.operations.filter((_, o) => !isFact(problem, o));
  return open.length <= MOST_OPERATIONS && problem.stays.length > 0 && provable(problem);
}
