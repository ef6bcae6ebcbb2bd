import type { PlannedOperation, PlannedStay, Schedule } from '../problem/solution.ts';
import type { Book } from './book.ts';

/** The schedule that the book's plans make up; what belongs to jobs that are not entered is absent. */
export function scheduleOf(book: Book): Schedule {
  const problem = book.shop.problem;
  const operations = new Array<PlannedOperation | null>(problem.operations.length).fill(null);
  const stays = new Array<PlannedStay | null>(problem.stays.length).fill(null);
  for (const j of book.jobs.keys()) writeJob(book, j, operations, stays);
  return { operations, stays };
}

/** Writes one job's part of a schedule. */
export function writeJob(
  book: Book,
  j: number,
  operations: (PlannedOperation | null)[],
  stays: (PlannedStay | null)[],
): void {
  const job = book.jobs[j]!;
  const plan = book.plans[j];
  if (!plan) return;
  for (const [i, operation] of job.operations.entries()) {
    const mode = plan.mode[i]!;
    operations[operation.index] = mode < 0 ? null : { start: plan.start[i]!, end: plan.end[i]!, mode };
  }
  for (const [k, stage] of job.stages.entries()) {
    const place = plan.place[k]!;
    if (stage.stay >= 0) stays[stage.stay] = place < 0 ? null : { place, from: plan.from[k]!, to: plan.to[k]! };
  }
}
