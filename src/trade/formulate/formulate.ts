import type { Problem } from '../../engine/problem/problem.ts';
import type { JobId, TechnicianId } from '../model/ids.ts';
import type { Job } from '../model/job.ts';
import { AIR_LABELS } from '../model/lists.ts';
import type { Book, Releases } from './book.ts';
import type { Formulation, LeftOut, Notice } from './formulation.ts';
import type { Frame } from './frame.ts';
import { previousOf } from './previous.ts';
import type { ProblemDraft } from './problem-draft.ts';
import { writeBook } from './write-book.ts';

/**
 * Writes a shop's book as a scheduling problem. Jobs come in the book's order, so that a book with one more job at its
 * end gives the same problem with more at the ends of its lists. A job that cannot be planned is left out and named,
 * with the field at fault; the place it stands in stays taken. Facts never make the problem contradictory.
 *
 * @throws RangeError when the time zone is unknown.
 */
export function formulate(book: Book, releases: Releases = {}): Formulation {
  const { frame, draft, notices, leftOut } = writeBook(book, releases);
  return asFormulation(frame, draft, notices, leftOut);
}

/**
 * The book with one more job, at the end: for quotes, the same code as for plans. `candidate` is its index among the jobs;
 * undefined when it cannot be planned, for the reason in `leftOut`.
 */
export function formulateCandidate(
  book: Book,
  job: Job,
  releases: Releases = {},
): { readonly formulation: Formulation; readonly candidate: number | undefined } {
  const formulation = formulate({ ...book, jobs: [...book.jobs, job] }, releases);
  return { formulation, candidate: formulation.jobIndex(job.id) };
}

/** What has been written, as a problem and what its indices mean. */
export function asFormulation(
  frame: Frame,
  draft: ProblemDraft,
  notices: readonly Notice[],
  leftOut: readonly LeftOut[],
): Formulation {
  const { book, axis } = frame;
  const jobIndex = jobIndices(draft);
  const operationIndex = operationIndices(draft);
  const people: (TechnicianId | null)[] = [];
  const pacePercent: number[] = [];
  for (let resource = 0; resource < frame.resources.length; resource++) {
    const technician = frame.people[resource]?.technician;
    people.push(technician?.id ?? null);
    pacePercent.push(technician?.pacePercent ?? 100);
  }
  const problem: Problem = {
    horizon: frame.horizon,
    now: frame.now,
    progresses: frame.progresses,
    resources: frame.resources,
    budgets: frame.budgets,
    places: frame.places,
    zones: book.airZones.map(({ name }) => name),
    airLabels: AIR_LABELS,
    airExclusions: frame.exclusions,
    jobs: draft.jobs,
    operations: draft.operations,
    stays: draft.stays,
    lags: draft.lags,
    branches: draft.branches,
    sameCrew: draft.sameCrew,
    airSpans: draft.airSpans,
    stills: draft.stills,
    takenPlaces: draft.takenPlaces,
    takenResources: [],
    ...previousOf(frame, draft, people),
    tiers: ['broken', 'tardiness', 'overtime', 'lead', 'change', 'standing'],
  };
  return {
    problem,
    axis,
    now: book.now,
    jobs: draft.formulatedJobs,
    operations: draft.formulatedOperations,
    places: book.places.map(({ id }) => id),
    people,
    pacePercent,
    notices,
    leftOut,
    jobIndex: (id) => jobIndex.get(id),
    operationIndex: (id, key) => operationIndex.get(`${id} ${key}`),
  };
}

function jobIndices({ formulatedJobs }: ProblemDraft): Map<JobId, number> {
  const indices = new Map<JobId, number>();
  for (const [index, { job }] of formulatedJobs.entries()) indices.set(job.id, index);
  return indices;
}

function operationIndices({ formulatedOperations }: ProblemDraft): Map<string, number> {
  const indices = new Map<string, number>();
  for (const [index, { jobId, key }] of formulatedOperations.entries()) indices.set(`${jobId} ${key}`, index);
  return indices;
}
