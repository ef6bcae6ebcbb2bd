import { NEVER } from '../calendar/never.ts';
import { WorkedPieces } from '../calendar/worked-pieces.ts';
import { check } from '../check/check.ts';
import type { Schedule } from '../problem/solution.ts';
import type { Book } from './book.ts';
import type { JobModel, StageModel } from './job-model.ts';
import { JobPlan } from './job-plan.ts';
import { scheduleOf } from './schedule-of.ts';

const pieces = new WorkedPieces();

/**
 * Enters the jobs of a schedule as they were, facts brought up to date, and withdraws again those that the checker
 * finds in a broken rule. What stays entered obeys every rule among itself.
 */
export function enterSchedule(book: Book, schedule: Schedule): void {
  const problem = book.shop.problem;
  enterEach(book, schedule, endAnew);
  for (;;) {
    const broken = new Set<number>();
    for (const { operations, stays } of check(problem, withFacts(book))) {
      for (const operation of operations) broken.add(problem.operations[operation]!.job);
      for (const stay of stays) broken.add(problem.stays[stay]!.job);
    }
    let withdrawn = 0;
    for (const j of broken) {
      if (book.plans[j] === null) continue;
      book.withdraw(j);
      withdrawn++;
    }
    if (withdrawn === 0) return;
  }
}

/**
 * The schedule of the jobs that are entered, and what has happened to the others: it takes up people, and their cars stand somewhere
 * now.
 */
function withFacts(book: Book): Schedule {
  const schedule = scheduleOf(book);
  const operations = [...schedule.operations];
  const stays = [...schedule.stays];
  for (const [j, job] of book.jobs.entries()) {
    if (book.plans[j] !== null) continue;
    const plan = JobPlan.of(job);
    plan.reset(job);
    for (const [i, { index, fixing }] of job.operations.entries()) {
      if (fixing === 'pinned') operations[index] = { start: plan.start[i]!, end: plan.end[i]!, mode: plan.mode[i]! };
    }
    const here = stageArrived(job);
    if (here !== null) stays[here.stay] = { place: here.fixedPlace, from: here.fixedFrom, to: book.shop.now + 1 };
  }
  return { operations, stays };
}

/** The last stage that the car is known to have come to; null when it has come to none. */
function stageArrived({ stages }: JobModel): StageModel | null {
  for (let k = stages.length - 1; k >= 0; k--) if (stages[k]!.fixedFrom >= 0) return stages[k]!;
  return null;
}

/** Enters the jobs of a schedule that is known to obey every rule. */
export function enterUnchecked(book: Book, schedule: Schedule): void {
  enterEach(book, schedule, keepAsIs);
}

/** Enters the jobs that are not in the book yet, each plan amended before. */
function enterEach(book: Book, schedule: Schedule, amend: (job: JobModel, plan: JobPlan) => void): void {
  for (let j = 0; j < book.jobs.length; j++) {
    const job = book.jobs[j]!;
    const plan = book.plans[j] === null ? planOf(job, schedule) : null;
    if (plan === null) continue;
    amend(job, plan);
    book.enter(j, plan);
  }
}

function keepAsIs(): void {}

/** What is left of work that was interrupted may be shorter by a minute than the plan had it. */
function endAnew(job: JobModel, plan: JobPlan): void {
  for (const [i, operation] of job.operations.entries()) {
    if (plan.mode[i]! < 0 || operation.fixing === 'pinned') continue;
    const { calendar, budget, work } = operation.modes[plan.mode[i]!]!;
    plan.end[i] = Math.min(plan.end[i]!, pieces.ofWork(calendar, budget, plan.start[i]!, work, NEVER));
  }
}

/** One job's part of a schedule with what is pinned put right; null when it has none. */
function planOf(job: JobModel, schedule: Schedule): JobPlan | null {
  const plan = JobPlan.of(job);
  let known = false;
  for (const [i, operation] of job.operations.entries()) {
    const planned = schedule.operations[operation.index];
    if (planned == null || planned.mode >= operation.modes.length) continue;
    plan.start[i] = planned.start;
    plan.end[i] = planned.end;
    plan.mode[i] = planned.mode;
    known = true;
  }
  if (!known) return null;
  for (const [i, operation] of job.operations.entries()) {
    if (operation.fixing !== 'pinned') continue;
    plan.start[i] = operation.fixedStart;
    plan.end[i] = operation.fixedEnd;
    plan.mode[i] = operation.fixedMode;
  }
  let before = -1;
  for (const [k, stage] of job.stages.entries()) {
    const planned = stage.stay < 0 ? null : schedule.stays[stage.stay];
    if (planned == null) continue;
    plan.place[k] = stage.fixedPlace >= 0 ? stage.fixedPlace : planned.place;
    plan.to[k] = planned.to;
    const sets = before < 0 ? job.arrival : stage.move;
    plan.from[k] = planned.from;
    if (stage.fixedFrom >= 0) plan.from[k] = stage.fixedFrom;
    else if (sets >= 0 && plan.mode[sets]! >= 0) plan.from[k] = before < 0 ? plan.start[sets]! : plan.end[sets]!;
    if (before >= 0) plan.to[before] = plan.from[k]!;
    before = k;
  }
  if (before >= 0 && job.handover >= 0 && plan.mode[job.handover]! >= 0) plan.to[before] = plan.end[job.handover]!;
  return plan;
}
