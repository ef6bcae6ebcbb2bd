import { check } from '../../engine/check/check.ts';
import type { Schedule, Solution } from '../../engine/problem/solution.ts';
import type { Book } from '../../trade/formulate/book.ts';
import { formulate } from '../../trade/formulate/formulate.ts';
import type { Formulation } from '../../trade/formulate/formulation.ts';
import { readPlan } from '../../trade/formulate/read-plan.ts';
import type { JobId } from '../../trade/model/ids.ts';
import type { Plan } from '../../trade/model/plan.ts';
import type { PlanningDeps } from '../deps.ts';
import { carName } from '../jobs/job-view.ts';
import { Busy, PlanRejected } from '../problems/problems.ts';
import type { ToRaise } from '../records/raise-exception.ts';
import { formulateWithout } from './formulate-without.ts';
import { inLocalTime } from './in-local-time.ts';
import { NOTHING_RELEASED, releaseOrder } from './release-order.ts';
import { carsToSetAside } from './set-aside.ts';
import { warmStartOf } from './warm-start.ts';

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
}

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
 * Plans a book: formulated, solved, and checked by a checker that shares nothing with the solver. When no plan keeps
 * every decision, decisions are released in the stated order until one does; when facts have left a car in a state that
 * no plan can hold, that car is set aside for a person, and the others are planned.
 * @throws PlanRejected when the check finds fault; Busy when no plan was found
 */
export async function draftPlan(deps: PlanningDeps, book: Book, ask: DraftAsk): Promise<DraftPlan> {
  const released: string[] = [];
  const solve = (formulation: Formulation, workLimit: number) =>
    deps.planner.plan(
      formulation.problem,
      {
        seed: deps.seed,
        workLimit,
        timeLimitMs: deps.budget.timeLimitMs,
        ...(ask.keepPlan && book.previousPlan ? { warmStart: warmStartOf(formulation, book.previousPlan) } : {}),
      },
      undefined,
      ask.signal,
    );
  let conflict = '';
  for (const step of ask.keepDecisions ? [NOTHING_RELEASED] : releaseOrder(book)) {
    if (step.text !== null) released.push(step.text);
    const formulation = formulate(book, step.releases);
    const solution = await solve(formulation, ask.workLimit);
    if (solution.schedule !== null) {
      return draftOf(deps, book, formulation, solution, solution.schedule, released, ask.reason);
    }
    if (ask.signal?.aborted) throw new Busy('Planning was cancelled.');
    const parts = solution.conflict?.parts ?? [];
    if (parts.length > 0) conflict = parts.map((part) => inLocalTime(part.text, formulation, book.shop)).join('; ');
  }
  const aside = ask.keepDecisions
    ? null
    : await carsToSetAside(book, async (formulation) => (await solve(formulation, 1)).schedule !== null);
  if (aside !== null) {
    const formulation = formulateWithout(book, aside);
    const solution = await solve(formulation, ask.workLimit);
    if (solution.schedule !== null) {
      const draft = draftOf(deps, book, formulation, solution, solution.schedule, [], ask.reason);
      return { ...draft, exceptions: [...draft.exceptions, ...asideExceptions(book, aside)] };
    }
  }
  throw new Busy(`No plan was found${conflict === '' ? '' : `: ${conflict}`}; the plan that stood stays.`);
}

function asideExceptions(book: Book, aside: ReadonlySet<JobId>): ToRaise[] {
  return book.jobs
    .filter((job) => aside.has(job.id))
    .map((job) => ({
      kind: 'planRejected' as const,
      jobId: job.id,
      cause: `set aside ${Math.floor(book.now / 86_400_000)}`,
      text: `${carName(job)}: no plan can hold it as things stand. It keeps its place; a person decides what is done.`,
    }));
}

/** Reads a schedule as a plan, once it has passed the check. @throws PlanRejected */
export function draftOf(
  deps: Pick<PlanningDeps, 'log' | 'seed'>,
  book: Book,
  formulation: Formulation,
  solution: Solution,
  schedule: Schedule,
  released: readonly string[],
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
  return { book, formulation, schedule, plan, released, exceptions: exceptionsOf(formulation, released) };
}

/** A plan that breaks a rule is never stored: it is logged with every violation. @throws PlanRejected */
export function mustPass(deps: Pick<PlanningDeps, 'log'>, formulation: Formulation, schedule: Schedule): void {
  const violations = check(formulation.problem, schedule);
  if (violations.length === 0) return;
  deps.log.error({ violations }, 'a plan broke a rule and was not stored');
  throw new PlanRejected(violations.map(({ rule, text }) => ({ rule, field: '', text })));
}

function exceptionsOf(formulation: Formulation, released: readonly string[]): ToRaise[] {
  const day = Math.floor(formulation.now / 86_400_000);
  return [
    ...formulation.notices.map((notice) => ({
      kind: notice.kind === 'notArrived' ? ('carMissing' as const) : ('factAgainstRule' as const),
      jobId: notice.jobId,
      // Once a day and piece of work: the sentence may carry minutes that grow.
      cause: `${notice.kind} ${notice.operation ?? ''} ${day}`,
      text: notice.text,
    })),
    ...formulation.leftOut.map(({ jobId, field, reason }) => ({
      kind: 'planRejected' as const,
      jobId,
      cause: `${field} ${reason}`,
      text: `It could not be planned (${field}): ${reason}`,
    })),
    ...released.map((text) => ({
      kind: 'freezeReleased' as const,
      jobId: null,
      cause: `${text} ${formulation.now}`,
      text: `No plan kept every decision; released: ${text}.`,
    })),
  ];
}
