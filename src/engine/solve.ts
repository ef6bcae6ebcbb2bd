import { ShopBound } from './bound/bound.ts';
import { check } from './check/check.ts';
import { bestFirstPlan } from './construct/best-first-plan.ts';
import { type Blocked, describeBlocked } from './construct/blocked.ts';
import { Book } from './construct/book.ts';
import { compileJobs } from './construct/compile-job.ts';
import { enterSchedule } from './construct/enter-schedule.ts';
import { BY_SLACK, firstPlan } from './construct/first-plan.ts';
import { JobInserter } from './construct/insert-job.ts';
import { makeRoom } from './construct/make-room.ts';
import { scheduleOf } from './construct/schedule-of.ts';
import { ShopModel } from './construct/shop-model.ts';
import { improve } from './improve/improve.ts';
import type { Problem } from './problem/problem.ts';
import type { Conflict, ConflictPart, Solution } from './problem/solution.ts';
import { closeShop } from './prove/close-shop.ts';
import { conflictSet } from './prove/conflict-set.ts';
import { isPlain, provable } from './prove/provable.ts';
import { prove } from './prove/prove.ts';
import type { SolveOptions } from './solve-options.ts';

/** Units of search work that others may be moved for whoever finds no time: some seconds; where somebody waits, a fifth of one. */
const ROOM_WORK = 4_000_000;
const ROOM_WORK_AT_ONCE = 250_000;

/** Most blocked jobs that a conflict names. */
const MOST_NAMED = 8;

/**
 * Plans a problem: the single way in. Problems without cars are searched with proof where every feature they use
 * can be proved about; shops are planned job by job and then improved, small ones by proof as well. Equal problems, seeds
 * and work budgets give equal plans. A unit of work is one candidate start of one operation looked at.
 */
export function solve(problem: Problem, options: SolveOptions): Solution {
  return isPlain(problem) && provable(problem) ? provePlain(problem, options) : closeShop(problem, options, planShop);
}

/** Proves a problem without cars; when it has no plan, says with what is left of the budget which parts contradict one another. */
function provePlain(problem: Problem, options: SolveOptions): Solution {
  const until = (options.clock?.() ?? 0) + (options.timeLimitMs ?? Number.POSITIVE_INFINITY);
  const solution = prove(problem, options);
  if (solution.status !== 'infeasible') return solution;
  let interrupted: boolean = solution.interrupted;
  const cancelled = () => {
    interrupted ||= options.cancelled?.() === true || (options.clock !== undefined && options.clock() >= until);
    return interrupted;
  };
  const { conflict, work } = conflictSet(problem, {
    seed: options.seed,
    workLimit: options.workLimit - solution.work,
    cancelled,
  });
  return { ...solution, conflict, work: solution.work + work, interrupted };
}

function planShop(problem: Problem, options: SolveOptions): Solution {
  const began = options.clock?.() ?? 0;
  let interrupted = false;
  const stop = () => {
    interrupted ||=
      options.cancelled?.() === true ||
      (options.timeLimitMs !== undefined &&
        options.clock !== undefined &&
        options.clock() - began >= options.timeLimitMs);
    return interrupted;
  };
  const cancelled = () => {
    interrupted ||= options.cancelled?.() === true;
    return interrupted;
  };
  const shop = new ShopModel(problem);
  const jobs = compileJobs(shop, problem);
  const book = new Book(shop, jobs);
  const inserter = new JobInserter(book);
  const shopBound = new ShopBound(shop, jobs);
  const bound = shopBound.tiers;

  const atOnce = options.workLimit <= 0;
  const mostWork = atOnce ? ROOM_WORK_AT_ONCE : ROOM_WORK;
  const roomFor = (blocked: Blocked[]) =>
    blocked.length > 0 ? makeRoom(book, inserter, blocked, mostWork, cancelled) : blocked;

  if (options.warmStart !== undefined) enterSchedule(book, options.warmStart);
  let fromNothing = book.plans.every((plan) => plan === null);
  let blocked = roomFor(
    fromNothing
      ? bestFirstPlan(book, inserter, shopBound, cancelled, atOnce)
      : firstPlan(book, inserter, BY_SLACK, cancelled),
  );
  if (blocked.length > 0 && !fromNothing && !cancelled()) {
    // The old plan leaves no room for what is new: plan everything anew.
    for (const j of book.jobs.keys()) if (book.plans[j] !== null) book.withdraw(j);
    fromNothing = true;
    blocked = roomFor(bestFirstPlan(book, inserter, shopBound, cancelled, atOnce));
  }
  if (blocked.length > 0) {
    const impossible = shopBound.jobs.some(({ impossible }) => impossible >= 0);
    const conflict = interrupted && !impossible ? undefined : conflictOf(shop, book, shopBound, blocked);
    return {
      status: impossible ? 'infeasible' : 'unknown',
      schedule: null,
      objective: null,
      bound: [...bound],
      ...(conflict ? { conflict } : {}),
      work: inserter.work,
      interrupted,
    };
  }
  const objective = new Float64Array(problem.tiers.length);
  book.objective(objective);
  const report = (value: Float64Array) => {
    options.onProgress?.({ schedule: scheduleOf(book), objective: [...value], bound: [...bound], work: inserter.work });
  };
  report(objective);
  // Facts may clash with one another, and what is not judged between them is easily mistaken for room.
  const inShop = book.jobs.some((job) => job.inShop || job.fixed);
  improve(book, inserter, {
    seed: options.seed,
    workLimit: options.workLimit,
    stop,
    onBetter: report,
    isSound: () => !inShop || check(problem, scheduleOf(book)).length === 0,
    fromNothing,
    bound: shopBound,
  });
  book.objective(objective);
  return {
    status: objective.every((value, tier) => value === bound[tier]) ? 'optimal' : 'feasible',
    schedule: scheduleOf(book),
    objective: [...objective],
    bound: [...bound],
    work: inserter.work,
    interrupted,
  };
}

/** Which jobs found no time and what stood in their way; of a job that has none even alone, the operation at fault. */
function conflictOf(shop: ShopModel, book: Book, bound: ShopBound, blocked: readonly Blocked[]): Conflict {
  const parts: ConflictPart[] = [];
  for (const [j, { impossible }] of bound.jobs.entries()) {
    if (impossible < 0 || parts.length >= MOST_NAMED) continue;
    const job = book.jobs[j]!;
    const operation = job.operations[impossible]!;
    parts.push({
      kind: 'deadline',
      index: operation.index,
      text: `${job.name}: "${operation.name}" cannot end by minute ${Math.min(operation.deadline, shop.horizon)}, even with the shop empty`,
    });
  }
  // Others wait for a car that is stuck in the shop: it is the one to name.
  const stuck = blocked.filter(({ job }) => book.jobs[job]!.inShop);
  for (const each of (stuck.length > 0 ? stuck : blocked).slice(0, MOST_NAMED)) {
    parts.push(...describeBlocked(shop, each));
  }
  return { parts, minimal: false };
}
