import type { Problem } from '../../engine/problem/problem.ts';
import type { Schedule } from '../../engine/problem/solution.ts';

export interface Span {
  readonly from: number;
  readonly to: number;
}

/** First and last minute of each planned job of a schedule; empty for a job that is not planned. */
export function spansOfJobs(problem: Problem, schedule: Schedule): Span[] {
  const spans = problem.jobs.map(() => ({ from: Number.POSITIVE_INFINITY, to: Number.NEGATIVE_INFINITY }));
  const widen = (job: number, from: number, to: number) => {
    const span = spans[job]!;
    if (from < span.from) span.from = from;
    if (to > span.to) span.to = to;
  };
  for (const [o, planned] of schedule.operations.entries()) {
    if (planned != null) widen(problem.operations[o]!.job, planned.start, planned.end);
  }
  for (const [s, planned] of schedule.stays.entries()) {
    if (planned != null) widen(problem.stays[s]!.job, planned.from, planned.to);
  }
  return spans;
}

/**
 * Some jobs of a problem and of its schedule, by themselves: the shop is the same, indices are new. Rules between jobs
 * that are both kept stay as they are; a rule that one kept job breaks with another is broken in the part too.
 */
export function partOfProblem(
  problem: Problem,
  schedule: Schedule,
  keep: (job: number) => boolean,
): { problem: Problem; schedule: Schedule } {
  const jobs = renumbered(problem.jobs.length, keep);
  const operations = renumbered(problem.operations.length, (o) => keep(problem.operations[o]!.job));
  const stays = renumbered(problem.stays.length, (s) => keep(problem.stays[s]!.job));
  const o = (index: number) => operations.newOf[index]!;
  const has = (index: number) => operations.newOf[index]! >= 0;
  const ends = <T extends { from: { operation: number }; to: { operation: number } }>(link: T): T => ({
    ...link,
    from: { ...link.from, operation: o(link.from.operation) },
    to: { ...link.to, operation: o(link.to.operation) },
  });
  const { previous: _, ...shop } = problem;
  return {
    problem: {
      ...shop,
      jobs: jobs.kept.map((j) => {
        const job = problem.jobs[j]!;
        return {
          ...job,
          stays: job.stays.map((stay) => stays.newOf[stay]!),
          ...(job.arrival === undefined ? {} : { arrival: o(job.arrival) }),
          ...(job.handover === undefined ? {} : { handover: o(job.handover) }),
          ...(job.ready === undefined ? {} : { ready: o(job.ready) }),
        };
      }),
      operations: operations.kept.map((index) => {
        const operation = problem.operations[index]!;
        const job = jobs.newOf[operation.job]!;
        return operation.stay === undefined
          ? { ...operation, job }
          : { ...operation, job, stay: stays.newOf[operation.stay]! };
      }),
      stays: stays.kept.map((index) => {
        const stay = problem.stays[index]!;
        const job = jobs.newOf[stay.job]!;
        return stay.move === undefined ? { ...stay, job } : { ...stay, job, move: o(stay.move) };
      }),
      lags: problem.lags
        .filter(({ from, to }) => has(from.operation) && has(to.operation))
        .map((lag) => (lag.remedy ? { ...ends(lag), remedy: lag.remedy.map(o) } : ends(lag))),
      branches: problem.branches
        .filter(({ alternatives }) => alternatives.flat().every(has))
        .map((branch) => ({ ...branch, alternatives: branch.alternatives.map((group) => group.map(o)) })),
      sameCrew: problem.sameCrew
        .filter(({ first, second }) => has(first) && has(second))
        .map((link) => ({ ...link, first: o(link.first), second: o(link.second) })),
      airSpans: problem.airSpans
        .filter(({ from }) => has(from.operation))
        .map((span) => ({ ...ends(span), stay: stays.newOf[span.stay]! })),
      stills: problem.stills
        .filter(({ from }) => has(from.operation))
        .map((still) => ({ ...ends(still), job: jobs.newOf[still.job]! })),
    },
    schedule: {
      operations: operations.kept.map((index) => schedule.operations[index] ?? null),
      stays: stays.kept.map((index) => schedule.stays[index] ?? null),
    },
  };
}

interface Renumbered {
  /** Old indices that are kept, in order. */
  readonly kept: readonly number[];
  /** New index by old; -1 where it is not kept. */
  readonly newOf: Int32Array;
}

function renumbered(length: number, keep: (index: number) => boolean): Renumbered {
  const kept: number[] = [];
  const newOf = new Int32Array(length).fill(-1);
  for (let index = 0; index < length; index++) {
    if (keep(index)) newOf[index] = kept.push(index) - 1;
  }
  return { kept, newOf };
}
