import { check } from '../../engine/check/check.ts';
import { compareTiers } from '../../engine/improve/tiers.ts';
import type { Schedule, Solution } from '../../engine/problem/solution.ts';
import type { Book, Releases } from '../../trade/formulate/book.ts';
import { formulate } from '../../trade/formulate/formulate.ts';
import type { Formulation } from '../../trade/formulate/formulation.ts';
import { readPlan } from '../../trade/formulate/read-plan.ts';
import type { JobId, OperationKey } from '../../trade/model/ids.ts';
import type { Plan } from '../../trade/model/plan.ts';
import type { PlanningDeps } from '../deps.ts';
import { carsInShop } from '../jobs/cars-in-shop.ts';
import { Busy, PlanRejected } from '../problems/problems.ts';
import type { ToRaise } from '../records/raise-exception.ts';
import { carsInClosing, standingOn } from './closing-places.ts';
import { inLocalTime } from './in-local-time.ts';
import { dropOffsToRelease, leastLate, leastReleases, leastWishes, wishesToRelease } from './least-releases.ts';
import { noticesForDesk, releasesForDesk } from './plan-exceptions.ts';
import { reasonInWords } from './reason-in-words.ts';
import { carsToSetAside, jobsNamed, namedSetAside, type QuickSolve, whateverIsLeft } from './set-aside.ts';
import { waysToGoOn } from './ways-to-go-on.ts';

/** A plan that passed the independent check and is not stored yet. */
export interface DraftPlan {
  readonly book: Book;
  readonly formulation: Formulation;
  readonly schedule: Schedule;
  /** Its version is that of the book's plan; publishing gives it the next. */
  readonly plan: Plan;
  /** What had to be given up, in the stated order, in words. */
  readonly released: readonly string[];
  readonly exceptions: readonly ToRaise[];
  /** Wishes of the desk that the plan had to pass over, with the reason. */
  readonly notKept: readonly WishNotKept[];
}

export interface WishNotKept {
  readonly jobId: JobId;
  readonly operation: OperationKey | null;
  readonly text: string;
}

/** Units of search for a way out before a plan is told that breaks promises; each of two takes about a second. */
const MENDING_WORK = 150_000;
/** Of a plan that keeps them and makes a car ready so much later all the same. */
const SHORTENING_WORK = 30_000;
const MUCH_LATER_MINUTES = 240;
/** Cars set aside at most because the search names them, before the whole book is gone through. */
const MOST_NAMED = 2;

/** What drafting needs; nothing that cannot be had in a worker thread. */
export type DraftDeps = Pick<PlanningDeps, 'log' | 'seed'> & {
  readonly planner: Pick<PlanningDeps['planner'], 'plan'>;
  readonly budget: Pick<PlanningDeps['budget'], 'timeLimitMs'>;
};

export interface DraftAsk {
  readonly reason: string;
  /** Units of search work. */
  readonly workLimit: number;
  /** Start from the plan that stands rather than from nothing. */
  readonly keepPlan?: boolean;
  /** Give up no decision: without a plan that keeps them all there is none. */
  readonly keepDecisions?: boolean;
  readonly signal?: AbortSignal;
}

/**
 * Plans a book: formulated, solved, and checked by a checker that shares nothing with the solver. Windows that people are held for
 * lapse only when no plan keeps them; when none keeps every decision, as few as need be are released in the stated order; when facts
 * have left a car in a state that no plan can hold, that car is set aside for a person, and the others are planned; and when not even
 * that helps, whatever has a plan is.
 * @throws PlanRejected when the check finds fault; Busy when no plan was found
 */
export async function draftPlan(deps: DraftDeps, book: Book, ask: DraftAsk): Promise<DraftPlan> {
  const quickly: QuickSolve = (formulation) => anyPlan(deps, book, formulation, ask);
  const hasPlan = async (formulation: Formulation) => (await quickly(formulation)).schedule !== null;
  const draft = async (formulation: Formulation): Promise<DraftPlan | Solution> => {
    const solution = await solveOne(deps, book, formulation, ask);
    if (solution.schedule === null) return solution;
    return draftOf(deps, book, formulation, solution, solution.schedule, ask.reason);
  };

  const standingBy = formulate(book, { keepsHeldWindows: true });
  const stoodBy = await draft(standingBy);
  if ('plan' in stoodBy) return stoodBy;
  if (ask.signal?.aborted) throw new Busy('Planning was cancelled.');
  const strict = formulate(book);
  const isSame = strict.operations.length === standingBy.operations.length;
  const kept = isSame ? stoodBy : await draft(strict);
  if ('plan' in kept) return kept;
  if (ask.signal?.aborted) throw new Busy('Planning was cancelled.');
  if (!ask.keepDecisions) {
    // A wish is lighter than an hour told to a customer: wishes are given up first, and all of them before any hour.
    const wishers = wishesToRelease(book.jobs);
    const fewer = await leastWishes(wishers, (some) => hasPlan(formulate(book, some)));
    const unwished = fewer === null ? null : await draft(formulate(book, fewer));
    if (fewer !== null && unwished !== null && 'plan' in unwished) return withReleases(unwished, fewer);
    const wishesOf = wishers.length === 0 ? {} : { wishesOf: new Set(wishers) };

    const order = dropOffsToRelease(strict);
    const couldBePlanned = (some: Releases) => hasPlan(formulate(book, { ...some, ...wishesOf }));
    const inTheWay = jobsNamed(kept.conflict, strict);
    const releases =
      (await leastLate(
        inTheWay.filter((id) => order.includes(id)),
        couldBePlanned,
      )) ??
      (await standingOn(inTheWay, carsInClosing(strict), couldBePlanned)) ??
      (await leastReleases(order, carsInShop(book.jobs), couldBePlanned));
    const all = { ...releases, ...wishesOf };
    const released = releases === null ? null : await draft(formulate(book, all));
    if (releases !== null && released !== null && 'plan' in released) return withReleases(released, all);

    const named = await namedSetAside(book, quickly, { formulation: strict, conflict: kept.conflict }, MOST_NAMED);
    const aside = named ?? (await carsToSetAside(book, quickly));
    const given = aside === null ? await whateverIsLeft(book, quickly) : { aside };
    const others = given === null ? null : await draft(formulate(book, given));
    if (given !== null && others !== null && 'plan' in others) return withReleases(others, given);
  }
  const parts = kept.conflict?.parts ?? [];
  const why = parts.map((part) => inLocalTime(part.text, strict, book.shop)).join('; ');
  const reasons = parts.map((part) => reasonInWords(part, strict, book.shop));
  throw new Busy(`No plan was found${why === '' ? '' : `: ${why}`}; the plan that stood stays.`, reasons);
}

/**
 * From nothing; or from whichever way to go on with the plan that stands leads to the best plan at once. Where what has happened
 * breaks promises by more than that plan did, or makes a car ready much later, some search for a way out comes first, however soon a plan
 * is wanted.
 */
async function solveOne(
  deps: DraftDeps,
  { previousPlan }: Book,
  formulation: Formulation,
  ask: DraftAsk,
): Promise<Solution> {
  const { workLimit, keepPlan } = ask;
  const solve = (work: number, warmStart?: Schedule) => solveFrom(deps, formulation, ask, work, warmStart);
  if (!keepPlan || previousPlan === null) return solve(workLimit);
  const ways = waysToGoOn(formulation, previousPlan);
  if (ways.length === 1) return solve(workLimit, ways[0]);
  const fromStanding = await solve(0, ways[0]);
  let best = fromStanding;
  for (const way of ways.slice(1)) {
    const other = await solve(0, way);
    if (isBetterThan(other, best)) best = other;
  }
  if (best.schedule === null) return best;
  if (workForWayOut(formulation, best, previousPlan) === 0)
    return workLimit > 0 ? solve(workLimit, best.schedule) : best;
  // From the plan as it stood, of which most is left, then from the best so far.
  for (const from of best === fromStanding ? ['best'] : ['standing', 'best']) {
    const work = Math.max(workLimit, workForWayOut(formulation, best, previousPlan));
    const other = await solve(work, from === 'standing' ? ways[0] : (best.schedule ?? undefined));
    if (isBetterThan(other, best)) best = other;
    if (workForWayOut(formulation, best, previousPlan) === 0) break;
  }
  return best;
}

/** Units of search that a plan is worth before it is told. */
function workForWayOut(formulation: Formulation, found: Solution, standing: Plan): number {
  if (breaksMore(formulation, found, standing)) return MENDING_WORK;
  return makesMuchLater(formulation, found, standing) ? SHORTENING_WORK : 0;
}

/** The first plan at once from any way to go on, for whoever asks only whether there is one; else why the plan that stands leads to none. */
async function anyPlan(
  deps: DraftDeps,
  { previousPlan }: Book,
  formulation: Formulation,
  ask: DraftAsk,
): Promise<Solution> {
  const ways = ask.keepPlan && previousPlan !== null ? waysToGoOn(formulation, previousPlan) : [];
  let solution = await solveFrom(deps, formulation, ask, 0, ways[0]);
  for (const way of ways.slice(1)) {
    if (solution.schedule !== null) break;
    const other = await solveFrom(deps, formulation, ask, 0, way);
    if (other.schedule !== null) solution = other;
  }
  return solution;
}

function solveFrom(
  deps: DraftDeps,
  { problem }: Formulation,
  { signal }: DraftAsk,
  workLimit: number,
  warmStart?: Schedule,
): Promise<Solution> {
  const limits = { workLimit, timeLimitMs: deps.budget.timeLimitMs };
  const options = { seed: deps.seed, ...limits, ...(warmStart === undefined ? {} : { warmStart }) };
  return deps.planner.plan(problem, options, undefined, signal);
}

function isBetterThan({ objective }: Solution, { objective: than }: Solution): boolean {
  return objective !== null && (than === null || compareTiers(objective, than) < 0);
}

/** Whether promises are broken, or customers kept waiting, by more than in the plan that stood. */
function breaksMore({ problem }: Formulation, { objective }: Solution, standing: Plan): boolean {
  return (['broken', 'tardiness'] as const).some((tier) => {
    const before = standing.objective.find((each) => each.tier === tier)?.value ?? 0;
    return (objective?.[problem.tiers.indexOf(tier)] ?? 0) > before;
  });
}

/** Whether a car is ready much later than in the plan that stood: what it lost of the time until its pickup, nothing gives back. */
function makesMuchLater({ problem, jobs, axis }: Formulation, { schedule }: Solution, standing: Plan): boolean {
  const before = new Map(standing.jobs.map(({ jobId, readyAt }) => [jobId, axis.toMinute(readyAt, 'floor')]));
  return jobs.some(({ job }, j) => {
    const { ready } = problem.jobs[j]!;
    const then = before.get(job.id);
    const end = ready === undefined ? undefined : schedule?.operations[ready]?.end;
    return then !== undefined && end !== undefined && end > then + MUCH_LATER_MINUTES;
  });
}

function withReleases(draft: DraftPlan, releases: Releases): DraftPlan {
  const told = releasesForDesk(draft.book, draft.plan, releases);
  const released = told.filter(({ kind }) => kind === 'freezeReleased').map(({ text }) => text);
  return { ...draft, released, exceptions: [...draft.exceptions, ...told] };
}

/** Reads a schedule as a plan, once it has passed the check. @throws PlanRejected */
export function draftOf(
  deps: Pick<PlanningDeps, 'log' | 'seed'>,
  book: Book,
  formulation: Formulation,
  solution: Solution,
  schedule: Schedule,
  reason: string,
): DraftPlan {
  mustPass(deps, formulation, schedule);
  const plan = readPlan(formulation, schedule, {
    version: book.previousPlan?.version ?? 0,
    madeAt: book.now,
    reason,
    objective: formulation.problem.tiers.map((tier, index) => ({
      tier,
      value: solution.objective?.[index] ?? 0,
      bound: solution.bound[index] ?? 0,
    })),
    seed: deps.seed,
    interrupted: solution.interrupted,
  });
  const notKept = formulation.notices.filter(({ kind }) => kind === 'wishNotKept');
  return { book, formulation, schedule, plan, released: [], exceptions: noticesForDesk(formulation), notKept };
}

/** A plan that breaks a rule is never stored: it is logged with every violation. @throws PlanRejected */
function mustPass(deps: Pick<PlanningDeps, 'log'>, formulation: Formulation, schedule: Schedule): void {
  const violations = check(formulation.problem, schedule);
  if (violations.length === 0) return;
  deps.log.error({ violations }, 'a plan broke a rule and was not stored');
  throw new PlanRejected(violations.map(({ rule, text }) => ({ rule, field: '', text })));
}
