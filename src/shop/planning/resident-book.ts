import { check } from '../../engine/check/check.ts';
import type { Violation } from '../../engine/check/violation.ts';
import type { Problem } from '../../engine/problem/problem.ts';
import type { Objective, Schedule } from '../../engine/problem/solution.ts';
import { openBook, type Placement, type QuoteOptions } from '../../engine/quote.ts';
import { solve } from '../../engine/solve.ts';
import type { Book } from '../../trade/formulate/book.ts';
import type { Formulation, LeftOut } from '../../trade/formulate/formulation.ts';
import { type OneMore, openFormulation } from '../../trade/formulate/open-formulation.ts';
import { readJobPlan, readPlan } from '../../trade/formulate/read-plan.ts';
import { workedStretches } from '../../trade/formulate/worked-stretches.ts';
import type { Job } from '../../trade/model/job.ts';
import type { Plan, PlannedJob, PlannedOperation, PlannedStay } from '../../trade/model/plan.ts';
import { setAsideBefore } from './formulate-without.ts';
import { partOfProblem, spansOfJobs } from './part-of-problem.ts';
import { warmStartOf } from './warm-start.ts';

/** Days ahead that an open book covers: when the usual weeks are full, the nearest slot lies further on. */
const OPEN_DAYS = 84;

/** Cars that stood or were worked on so long before or after are checked with a new one: a day's budgets, air that settles. */
const NEIGHBOUR_MINUTES = 1440;

/** So long after its drop-off a car that finds a place at all is out again. */
const LONGEST_VISIT_MINUTES = 14 * 1440;

/** One way to take a car in without moving anybody. */
export interface Inserted {
  readonly job: Job;
  readonly formulation: Formulation;
  readonly schedule: Schedule;
  readonly objective: Objective;
  readonly planned: PlannedJob;
  readonly operations: readonly PlannedOperation[];
  readonly stays: readonly PlannedStay[];
}

/** A shop's plan held in memory, with everything a question about one more car needs. */
export interface ResidentBook {
  readonly book: Book;
  readonly formulation: Formulation;
  readonly schedule: Schedule;
  /**
   * Where a car would go without moving anybody; why it cannot be planned at all; or null when this book cannot tell and
   * the whole is to be planned with it.
   */
  insert(job: Job, options?: ResidentOptions): readonly Inserted[] | LeftOut | null;
  /** A car by itself, where what the others hold of places, people and equipment is taken; null when it cannot be written. */
  amongTheOthers(job: Job): Problem | null;
  /** What the independent checker says of a car among those around it. */
  checkAmongNeighbours(inserted: Inserted): readonly Violation[];
  /** The whole plan with the car in it, and what the independent checker says of the whole. */
  wholePlan(
    inserted: Inserted,
    meta: { reason: string; seed: number },
  ): { plan: Plan; violations: readonly Violation[] };
}

export interface ResidentOptions {
  readonly alternatives?: number;
  readonly notBefore?: Job['earliestDropOff'];
  readonly shortStay?: boolean;
}

/**
 * Opens the plan that stands, put right where the clock alone has overtaken it. Null when there are cars that no plan
 * holds, or no plan keeps every decision.
 */
export function openResidentBook(loaded: Book, seed: number): ResidentBook | null {
  const book = { ...loaded, horizonDays: Math.max(loaded.horizonDays, OPEN_DAYS) };
  if (book.previousPlan === null ? book.jobs.length > 0 : setAsideBefore(book).size > 0) return null;
  const open = openFormulation(book);
  const { formulation } = open;
  const base = scheduleOf(formulation, book, seed);
  if (base === null) return null;
  const { problem, axis } = formulation;
  const shop = openBook(problem, base);
  const spans = spansOfJobs(problem, base);

  const insertedOf = (job: Job, more: OneMore, { schedule, objective }: Placement): Inserted => {
    const read = readJobPlan(more.formulation, schedule, more.candidate);
    const { job: planned, operations, stays } = read;
    return { job, formulation: more.formulation, schedule, objective, planned, operations, stays };
  };

  return {
    book,
    formulation,
    schedule: base,
    insert(job, { notBefore, ...options } = {}) {
      const more = open.withJob(job);
      if (more === null) return null;
      if ('reason' in more) return more;
      const asked: QuoteOptions =
        notBefore === undefined ? options : { ...options, notBefore: axis.toMinute(notBefore, 'ceil') };
      return shop.quote(more.formulation.problem, asked).map((placement) => insertedOf(job, more, placement));
    },
    amongTheOthers(job) {
      const more = open.withJob(job);
      if (more === null || 'reason' in more) return null;
      const { problem: extended } = more.formulation;
      const alone = partOfProblem(extended, base, (j) => j === more.candidate).problem;
      const told = axis.toMinute(job.dropOffAt ?? job.earliestDropOff, 'ceil') + LONGEST_VISIT_MINUTES;
      const horizon = Math.min(problem.horizon, told);
      return { ...alone, horizon, ...takenBy(problem, base, horizon) };
    },
    checkAmongNeighbours({ formulation: { problem: extended }, schedule }) {
      const candidate = extended.jobs.length - 1;
      const { from, to } = spanOf(extended, schedule, candidate);
      const isNear = (j: number) =>
        j === candidate || (spans[j]!.to >= from - NEIGHBOUR_MINUTES && spans[j]!.from <= to + NEIGHBOUR_MINUTES);
      const part = partOfProblem(extended, schedule, isNear);
      return check(part.problem, part.schedule);
    },
    wholePlan({ formulation: whole, schedule, objective }, { reason, seed: usedSeed }) {
      const violations = check(whole.problem, schedule);
      const plan = readPlan(whole, schedule, {
        version: book.previousPlan?.version ?? 0,
        madeAt: book.now,
        reason,
        objective: whole.problem.tiers.map((tier, index) => ({ tier, value: objective[index]!, bound: 0 })),
        seed: usedSeed,
        interrupted: false,
      });
      return { plan, violations };
    },
  };
}

/** What a schedule holds from now until some minute, as taken by others. */
function takenBy(problem: Problem, schedule: Schedule, until: number): Pick<Problem, 'takenPlaces' | 'takenResources'> {
  const takenPlaces = schedule.stays.flatMap((stay, s) => {
    if (stay === null || stay.to <= problem.now || stay.from >= until) return [];
    const { move } = problem.stays[s]!;
    const moved = move === undefined ? null : schedule.operations[move];
    return [{ place: stay.place, from: Math.min(stay.from, moved?.start ?? stay.from), to: stay.to }];
  });
  const takenResources = schedule.operations.flatMap((planned, o) => {
    if (planned === null || planned.end <= problem.now || planned.start >= until) return [];
    const mode = problem.operations[o]!.modes[planned.mode]!;
    if (mode.uses.length === 0) return [];
    return workedStretches(problem, mode, planned.start, planned.end).flatMap(({ from, to }) =>
      mode.uses.map(({ resource, amount }) => ({ resource, amount, from, to })),
    );
  });
  return {
    takenPlaces: [...problem.takenPlaces, ...takenPlaces],
    takenResources: [...problem.takenResources, ...takenResources],
  };
}

function spanOf(problem: Problem, schedule: Schedule, job: number): { from: number; to: number } {
  const stays = problem.jobs[job]!.stays.map((stay) => schedule.stays[stay]).filter((stay) => stay != null);
  return {
    from: Math.min(...stays.map(({ from }) => from)),
    to: Math.max(...stays.map(({ to }) => to)),
  };
}

/** The plan that stands as a schedule that obeys every rule now; null when a quick search finds none. */
function scheduleOf(formulation: Formulation, book: Book, seed: number): Schedule | null {
  const { problem } = formulation;
  if (book.previousPlan === null) return { operations: [], stays: [] };
  const standing = warmStartOf(formulation, book.previousPlan);
  if (check(problem, standing).length === 0) return standing;
  return solve(problem, { seed, workLimit: 1, warmStart: standing }).schedule;
}
