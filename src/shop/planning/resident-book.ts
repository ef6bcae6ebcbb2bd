import { check } from '../../engine/check/check.ts';
import type { Violation } from '../../engine/check/violation.ts';
import type { Blocked } from '../../engine/construct/blocked.ts';
import type { Lag, Problem } from '../../engine/problem/problem.ts';
import type { Objective, Schedule } from '../../engine/problem/solution.ts';
import { openBook, type Placement, type QuoteOptions } from '../../engine/quote.ts';
import type { Book } from '../../trade/formulate/book.ts';
import type { Formulation, LeftOut } from '../../trade/formulate/formulation.ts';
import type { OneMore, OpenFormulation } from '../../trade/formulate/open-formulation.ts';
import { readJobPlan, readPlan } from '../../trade/formulate/read-plan.ts';
import type { Job } from '../../trade/model/job.ts';
import type { Plan, PlannedJob, PlannedOperation, PlannedStay } from '../../trade/model/plan.ts';
import type { Instant } from '../../trade/model/time.ts';
import { toldToCome } from '../../trade/model/told-to-come.ts';
import { type GaveWay, type JobInPlan, type MakeWayOptions, makeWay, type WayMade } from './make-way.ts';
import { partOfProblem, type Span, spansOfJobs } from './part-of-problem.ts';
import { takenBy } from './taken-by.ts';

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

/** One way to take a car in for which others give way. */
export interface InsertedMoving extends Inserted {
  readonly gaveWay: readonly GaveWay[];
}

export interface MovingOptions extends Omit<MakeWayOptions, 'accepts'> {
  /** Whether those who gave way may be moved so. */
  readonly accepts: (moving: InsertedMoving) => boolean;
}

/** A shop's plan held in memory, with everything a question about one more car needs. */
export interface ResidentBook {
  readonly book: Book;
  readonly formulation: Formulation;
  readonly schedule: Schedule;
  /** The end of the weeks that are open. */
  readonly openUntil: Instant;
  /** When the last car of the plan has gone. */
  readonly lastOut: Instant;
  /** What stood last in the way of the car that `insert` found no place for. */
  readonly blocked: Blocked | null;
  /**
   * Where a car would go without moving anybody; why it cannot be planned at all; or null when this book cannot tell and
   * the whole is to be planned with it.
   */
  insert(job: Job, options?: ResidentOptions): readonly Inserted[] | LeftOut | null;
  /** Where a car would go if others gave way to it; null when that brings it no sooner, or this book cannot tell. */
  insertMoving(job: Job, options: MovingOptions): InsertedMoving | null;
  /** A car by itself, where what the others hold of places, people and equipment is taken; null when it cannot be written. */
  amongTheOthers(job: Job): Problem | null;
  /** What the independent checker says of a car, and of those that gave way to it, among those around them. */
  checkAmongNeighbours(inserted: Inserted | InsertedMoving): readonly Violation[];
  /**
   * Takes a car in for good, once the plan with it is published: from here on it is one of the others. False when others gave
   * way to it, or the plan is not this book's next: then the book is to be opened anew.
   */
  accept(inserted: Inserted | InsertedMoving, published: Plan): boolean;
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
  /** The car can wait so long for its owner once its work is done. */
  readonly waitsMinutes?: number;
}

/** A plan in memory: a formulated book, and a schedule of it that obeys every rule. */
export function residentAt(opened: Book, open: OpenFormulation, standing: Schedule): ResidentBook {
  let book = opened;
  let base = standing;
  let formulation = open.formulation;
  const { axis, problem: first } = formulation;
  const shop = openBook(first, base);
  const spans = spansOfJobs(first, base);

  const inPlan = (j: number): JobInPlan => {
    const { job: planned, operations, stays } = readJobPlan(formulation, base, j);
    return { job: formulation.jobs[j]!.job, planned, operations, stays };
  };
  const insertedOf = (
    job: Job,
    more: OneMore,
    { schedule, objective }: Pick<Placement, 'schedule' | 'objective'>,
  ): Inserted => {
    const read = readJobPlan(more.formulation, schedule, more.candidate);
    const { job: planned, operations, stays } = read;
    return { job, formulation: more.formulation, schedule, objective, planned, operations, stays };
  };

  return {
    get book() {
      return book;
    },
    get formulation() {
      return formulation;
    },
    get schedule() {
      return base;
    },
    openUntil: axis.toInstant(first.horizon),
    get lastOut() {
      return axis.toInstant(spans.reduce((last, { to }) => Math.max(last, to), first.now));
    },
    accept(inserted, published) {
      const moved = 'gaveWay' in inserted ? inserted.gaveWay.length : 0;
      if (moved > 0 || published.version !== (book.previousPlan?.version ?? 0) + 1) return false;
      const { job, schedule } = inserted;
      open.keep(job, (o) => {
        const planned = schedule.operations[o];
        return planned == null ? null : { start: planned.start, mode: planned.mode };
      });
      formulation = open.formulation;
      shop.accept(formulation.problem, { schedule });
      base = schedule;
      spans.push(spanOf(formulation.problem, schedule, formulation.jobs.length - 1));
      book = { ...book, jobs: [...book.jobs, job], previousPlan: published };
      return true;
    },
    get blocked() {
      return shop.blocked;
    },
    insert(job, { notBefore, waitsMinutes = 0, ...options } = {}) {
      const more = open.withJob(job);
      if (more === null) return null;
      if ('reason' in more) return more;
      const asked: QuoteOptions =
        notBefore === undefined ? options : { ...options, notBefore: axis.toMinute(notBefore, 'ceil') };
      const { problem } = more.formulation;
      return shop
        .quote(waitsMinutes > 0 ? waiting(problem, more.candidate, waitsMinutes) : problem, asked)
        .map((placement) => insertedOf(job, more, placement));
    },
    insertMoving(job, { accepts, ...options }) {
      const more = open.withJob(job);
      if (more === null || 'reason' in more) return null;
      const movingOf = ({ placement, gaveWay }: WayMade) => ({ ...insertedOf(job, more, placement), gaveWay });
      const mayMove = (way: WayMade) => accepts(movingOf(way));
      const way = makeWay(more, { shop, spans, inPlan }, { ...options, accepts: mayMove });
      return way === null ? null : movingOf(way);
    },
    amongTheOthers(job) {
      const more = open.withJob(job);
      if (more === null || 'reason' in more) return null;
      const { problem: extended } = more.formulation;
      const { problem } = formulation;
      const isIt = extended.jobs.map((_, j) => j === more.candidate);
      const alone = partOfProblem(extended, base, isIt).problem;
      const told = axis.toMinute(toldToCome(job), 'ceil') + LONGEST_VISIT_MINUTES;
      const horizon = Math.min(problem.horizon, told);
      return { ...alone, horizon, ...takenBy(problem, base, horizon) };
    },
    checkAmongNeighbours(inserted) {
      const { formulation: whole, schedule } = inserted;
      const moved = 'gaveWay' in inserted ? (inserted as InsertedMoving).gaveWay : [];
      const placed = [whole.jobs.length - 1, ...moved.map(({ after }) => formulation.jobIndex(after.job.id)!)];
      const theirs = placed.map((j) => spanOf(whole.problem, schedule, j));
      const keeps = whole.jobs.map((_, j) => placed.includes(j) || meetsAny(spans[j]!, theirs));
      const part = partOfProblem(whole.problem, schedule, keeps);
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

/** Asks that a job's owner comes so long after its work is done. */
function waiting(problem: Problem, job: number, minutes: number): Problem {
  const { ready, handover } = problem.jobs[job]!;
  if (ready === undefined || handover === undefined) return problem;
  const wait: Lag = {
    from: { operation: ready, edge: 'end' },
    to: { operation: handover, edge: 'start' },
    min: minutes,
  };
  return { ...problem, lags: [...problem.lags, wait] };
}

/** Whether a car was there so shortly before or after one of some others that it is checked with them. */
function meetsAny(span: Span, others: readonly Span[]): boolean {
  for (const { from, to } of others) {
    if (span.to >= from - NEIGHBOUR_MINUTES && span.from <= to + NEIGHBOUR_MINUTES) return true;
  }
  return false;
}

function spanOf(problem: Problem, schedule: Schedule, job: number): Span {
  let from = Number.POSITIVE_INFINITY;
  let to = Number.NEGATIVE_INFINITY;
  for (const stay of problem.jobs[job]!.stays) {
    const planned = schedule.stays[stay];
    if (planned == null) continue;
    from = Math.min(from, planned.from);
    to = Math.max(to, planned.to);
  }
  return { from, to };
}
