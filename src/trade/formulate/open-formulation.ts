import type { Job } from '../model/job.ts';
import type { Book, Releases } from './book.ts';
import { CannotPlan } from './car.ts';
import { readFloor } from './floor-record.ts';
import { asFormulation } from './formulate.ts';
import type { Formulation, LeftOut, Notice } from './formulation.ts';
import { holdsToo } from './frame.ts';
import { copyOf, lengthsOf, type ProblemDraft, takeBack } from './problem-draft.ts';
import { type WrittenBook, writeBook } from './write-book.ts';

/** A job that is not in the book, written at its end. */
export interface OneMore {
  readonly formulation: Formulation;
  /** Index of the job among the problem's jobs. */
  readonly candidate: number;
}

/** What the plan says of an operation now. */
export type PlannedNow = (operation: number) => { readonly start: number; readonly mode: number } | null;

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
  keep(job: Job, planned: PlannedNow): void;
}

/** @throws RangeError when the time zone is unknown. */
export function openFormulation(book: Book, releases: Releases = {}): OpenFormulation {
  return new OpenBook(writeBook(book, releases));
}

class OpenBook implements OpenFormulation {
  readonly #written: WrittenBook;
  #formulation: Formulation;

  constructor(written: WrittenBook) {
    const { frame, draft, notices, leftOut } = written;
    const base = asFormulation(frame, copyOf(draft), notices, leftOut);
    this.#written = written;
    this.#formulation = { ...base, problem: { ...base.problem, progresses: base.problem.progresses.slice() } };
  }

  get formulation(): Formulation {
    return this.#formulation;
  }

  keep(job: Job, planned: PlannedNow): void {
    const first = this.#formulation.operations.length;
    const { formulation } = this.#oneMore(job);
    const { previous } = formulation.problem;
    if (previous === undefined) this.#formulation = formulation;
    else {
      const operations = previous.operations.slice();
      for (let o = first; o < operations.length; o++) operations[o] = planned(o);
      this.#formulation = { ...formulation, problem: { ...formulation.problem, previous: { operations } } };
    }
  }

  withJob(job: Job): OneMore | LeftOut | null {
    const { frame, draft } = this.#written;
    if (!holdsToo(frame, job)) return null;
    const before = lengthsOf(draft);
    try {
      return this.#oneMore(job);
    } catch (error) {
      if (!(error instanceof CannotPlan)) throw error;
      return error.leftOut(job);
    } finally {
      takeBack(before);
    }
  }

  /** Writes a job into the draft. @throws CannotPlan */
  #oneMore(job: Job): OneMore {
    const { frame, draft } = this.#written;
    const heard: Notice[] = [];
    this.#written.write({ job, record: readFloor([], frame.book.now) }, undefined, heard);
    const standing = this.#formulation;
    const candidate = standing.jobs.length;
    const own = indicesFrom(standing.operations.length, draft);
    const { formulatedJobs, formulatedOperations, ...lists } = copyOf(draft);
    const { previous } = standing.problem;
    const nothingSaid = new Array<null>(own.size).fill(null);
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
  }
}

/** Indices of a draft's operations, from one on, by their keys. */
function indicesFrom(first: number, { formulatedOperations }: ProblemDraft): Map<string, number> {
  const indices = new Map<string, number>();
  for (let o = first; o < formulatedOperations.length; o++) indices.set(formulatedOperations[o]!.key, o);
  return indices;
}
