import type { Job } from '../model/job.ts';
import type { Book, Releases } from './book.ts';
import { CannotPlan } from './car.ts';
import { readFloor } from './floor-record.ts';
import { asFormulation, writeBook } from './formulate.ts';
import type { Formulation, LeftOut, Notice } from './formulation.ts';
import { holdsToo } from './frame.ts';
import type { ProblemDraft } from './problem-draft.ts';

/** A job that is not in the book, written at its end. */
export interface OneMore {
  readonly formulation: Formulation;
  /** Index of the job among the problem's jobs. */
  readonly candidate: number;
}

/** A book that was formulated once and takes one more job again and again, for quotes. */
export interface OpenFormulation {
  readonly formulation: Formulation;
  /**
   * The same problem as `formulateCandidate` gives, at the cost of the one job. Progress functions that earlier jobs
   * asked for stay in it. Null when the job's hours would stretch the axis or the shop's shifts: then the whole book is
   * to be formulated with it.
   */
  withJob(job: Job): OneMore | LeftOut | null;
  /** Keeps a job that `withJob` could write, with what the plan says of its operations now: `formulation` has it from here on. */
  keep(job: Job, planned: (operation: number) => { readonly start: number; readonly mode: number } | null): void;
}

/** @throws RangeError when the time zone is unknown. */
export function openFormulation(book: Book, releases: Releases = {}): OpenFormulation {
  const written = writeBook(book, releases);
  const { frame, draft, leftOut } = written;
  const base = asFormulation(frame, copyOf(draft), written.notices, leftOut);
  let formulation: Formulation = {
    ...base,
    problem: { ...base.problem, progresses: base.problem.progresses.slice() },
  };

  const asOneMore = (job: Job, heard: readonly Notice[]): OneMore => {
    const standing = formulation;
    const { jobs, operations } = standing;
    const own = new Map<string, number>();
    for (let o = operations.length; o < draft.formulatedOperations.length; o++) {
      own.set(draft.formulatedOperations[o]!.key, o);
    }
    const { formulatedJobs, formulatedOperations, ...lists } = copyOf(draft);
    const { previous } = standing.problem;
    const nothingSaid = new Array<null>(own.size).fill(null);
    const candidate = jobs.length;
    return {
      candidate,
      formulation: {
        ...standing,
        problem: {
          ...standing.problem,
          ...lists,
          progresses: frame.progresses.slice(),
          ...(previous === undefined ? {} : { previous: { operations: previous.operations.concat(nothingSaid) } }),
        },
        jobs: formulatedJobs,
        operations: formulatedOperations,
        notices: [...standing.notices, ...heard],
        jobIndex: (id) => (id === job.id ? candidate : standing.jobIndex(id)),
        operationIndex: (id, key) => (id === job.id ? own.get(key) : standing.operationIndex(id, key)),
      },
    };
  };

  return {
    get formulation() {
      return formulation;
    },
    keep(job, planned) {
      const heard: Notice[] = [];
      written.write({ job, record: readFloor([], book.now) }, undefined, heard);
      const first = formulation.operations.length;
      const more = asOneMore(job, heard).formulation;
      const { previous } = more.problem;
      if (previous === undefined) formulation = more;
      else {
        const operations = previous.operations.map((before, o) => (o < first ? before : planned(o)));
        formulation = { ...more, problem: { ...more.problem, previous: { operations } } };
      }
    },
    withJob(job) {
      if (!holdsToo(frame, job)) return null;
      const before = lengthsOf(draft);
      const heard: Notice[] = [];
      try {
        written.write({ job, record: readFloor([], book.now) }, undefined, heard);
        return asOneMore(job, heard);
      } catch (error) {
        if (!(error instanceof CannotPlan)) throw error;
        return error.leftOut(job);
      } finally {
        for (const [list, length] of before) list.length = length;
      }
    },
  };
}

function copyOf(draft: ProblemDraft): ProblemDraft {
  return Object.fromEntries(
    Object.entries(draft).map(([name, list]) => [name, list.slice()]),
  ) as unknown as ProblemDraft;
}

function lengthsOf(draft: ProblemDraft): [unknown[], number][] {
  return (Object.values(draft) as unknown[][]).map((list) => [list, list.length]);
}
