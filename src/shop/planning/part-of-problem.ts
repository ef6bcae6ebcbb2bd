import type { Problem } from '../../engine/problem/problem.ts';
import type { Schedule } from '../../engine/problem/solution.ts';
import { Cut, type Renumbered } from './cut.ts';

export interface Span {
  readonly from: number;
  readonly to: number;
}

/** First and last minute of each planned job of a schedule; empty for a job that is not planned. */
export function spansOfJobs(problem: Problem, schedule: Schedule): Span[] {
  const spans: { from: number; to: number }[] = [];
  for (let j = 0; j < problem.jobs.length; j++) {
    spans.push({ from: Number.POSITIVE_INFINITY, to: Number.NEGATIVE_INFINITY });
  }
  for (let o = 0; o < schedule.operations.length; o++) {
    const planned = schedule.operations[o];
    if (planned != null) widen(spans[problem.operations[o]!.job]!, planned.start, planned.end);
  }
  for (let s = 0; s < schedule.stays.length; s++) {
    const planned = schedule.stays[s];
    if (planned != null) widen(spans[problem.stays[s]!.job]!, planned.from, planned.to);
  }
  return spans;
}

function widen(span: { from: number; to: number }, from: number, to: number): void {
  if (from < span.from) span.from = from;
  if (to > span.to) span.to = to;
}

/**
 * Some jobs of a problem and of its schedule, by themselves: the shop is the same, indices are new. Rules between jobs
 * that are both kept stay as they are; a rule that one kept job breaks with another is broken in the part too.
 *
 * @param keeps by job, whether it is kept.
 */
export function partOfProblem(
  problem: Problem,
  schedule: Schedule,
  keeps: readonly boolean[],
): { problem: Problem; schedule: Schedule } {
  const cut = new Cut(problem, keeps);
  const { previous: _, ...shop } = problem;
  return {
    problem: { ...shop, ...cut.jobsAndWork(), ...cut.links() },
    schedule: {
      operations: plannedOf(cut.operations, schedule.operations),
      stays: plannedOf(cut.stays, schedule.stays),
    },
  };
}

function plannedOf<T>({ kept }: Renumbered, planned: readonly (T | null | undefined)[]): (T | null)[] {
  const part: (T | null)[] = [];
  for (const index of kept) part.push(planned[index] ?? null);
  return part;
}
