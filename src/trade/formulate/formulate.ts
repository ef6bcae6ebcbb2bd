import type { Problem } from '../../engine/problem/problem.ts';
import type { Job } from '../model/job.ts';
import type { Recipe } from '../model/recipe.ts';
import { AirLabel } from '../model/shop.ts';
import type { Book, Releases } from './book.ts';
import { CannotPlan, carOf } from './car.ts';
import { coatingTimes } from './coating-times.ts';
import type { CrewNeed } from './crews.ts';
import { eventsByJob } from './events-by-job.ts';
import { type FloorRecord, readFloor } from './floor-record.ts';
import type { Formulation, LeftOut, Notice } from './formulation.ts';
import { type Frame, frameOf } from './frame.ts';
import { writeJob } from './job-writer.ts';
import { modeMaker } from './modes.ts';
import { previousOf } from './previous.ts';
import { allOrNothing, emptyDraft, type ProblemDraft } from './problem-draft.ts';
import { sharedNeeds } from './same-crew.ts';
import { type Stander, type Standing, whereCarsStand } from './standing.ts';

const open: ReadonlySet<Job['state']> = new Set(['held', 'booked', 'inShop']);

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

/** A book as it is written: the draft, and what writing one more job into it needs. */
export interface WrittenBook {
  readonly frame: Frame;
  readonly draft: ProblemDraft;
  readonly notices: readonly Notice[];
  readonly leftOut: readonly LeftOut[];
  /** Adds one more car to the draft, or nothing at all. @throws CannotPlan */
  write(car: Stander, standing: Standing | undefined, notices: Notice[]): void;
}

/** @throws RangeError when the time zone is unknown. */
export function writeBook(book: Book, releases: Releases = {}): WrittenBook {
  const frame = frameOf(book);
  const times = coatingTimes(frame);
  const maker = modeMaker(frame, times);
  const draft = emptyDraft();
  const notices: Notice[] = [];
  const leftOut: LeftOut[] = [];
  const everyCar = openCars(book, frame, releases);
  const cars = everyCar.filter(({ job }) => !releases.aside?.has(job.id));
  const standing = whereCarsStand(frame, cars, notices);
  const needsOf = new Map<string, ReadonlyMap<string, readonly CrewNeed[]>>();
  const write: WrittenBook['write'] = (stander, where, heard) => {
    const { recipeId } = stander.job;
    const car = carOf(frame, stander, draft.jobs.length, where, heard);
    const needs = needsOf.get(recipeId) ?? sharedNeeds(car.recipe, frame);
    needsOf.set(recipeId, needs);
    allOrNothing(draft, () => writeJob(car, { draft, maker, times, needs, releases }));
  };
  for (const { job, record } of cars) {
    const heard: Notice[] = [];
    try {
      write({ job, record }, standing.get(job.id), heard);
      notices.push(...heard);
    } catch (error) {
      if (!(error instanceof CannotPlan)) throw error;
      leftOut.push(error.leftOut(job));
      // A car that cannot be planned still stands where it stands.
      const place = standing.get(job.id)?.place;
      if (place !== undefined) draft.takenPlaces.push({ place, from: frame.now, to: frame.horizon });
    }
  }
  // Two facts in one place are nothing that a plan can mend: the car that is planned counts.
  const stoodIn = new Set([...standing.values()].map(({ place }) => place));
  const aside = everyCar.filter(({ job }) => releases.aside?.has(job.id));
  for (const { place } of whereCarsStand(frame, aside, []).values()) {
    if (!stoodIn.has(place)) draft.takenPlaces.push({ place, from: frame.now, to: frame.horizon });
  }
  return { frame, draft, notices, leftOut, write };
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

/** Open jobs with what has happened to them, those left out whose car is gone. */
function openCars(book: Book, frame: Frame, { wishesOf }: Releases): Stander[] {
  const eventsOf = eventsByJob(book.events);
  return book.jobs
    .filter(({ state }) => open.has(state))
    .map((job) => (wishesOf?.has(job.id) ? { ...job, wishes: [] } : job))
    .map((job) => ({ job, record: readFloor(eventsOf.get(job.id) ?? [], book.now) }))
    .filter(({ job, record }) => !hasGone(record, frame.recipeOf.get(job.recipeId)));
}

/** Picked up, or handed over: nothing is left to plan. */
function hasGone({ pickedUp, work }: FloorRecord, recipe: Recipe | undefined): boolean {
  const handover = recipe?.steps.findLast(({ kind }) => kind === 'handover');
  return pickedUp || (handover !== undefined && work.get(handover.key)?.state === 'finished');
}

/** What has been written, as a problem and what its indices mean. */
export function asFormulation(
  frame: Frame,
  draft: ProblemDraft,
  notices: readonly Notice[],
  leftOut: readonly LeftOut[],
): Formulation {
  const { book, axis } = frame;
  const jobIndex = new Map(draft.formulatedJobs.map(({ job }, index) => [job.id, index]));
  const operationIndex = new Map(draft.formulatedOperations.map(({ jobId, key }, index) => [`${jobId} ${key}`, index]));
  const people = frame.resources.map((_, index) => frame.people[index]?.technician.id ?? null);
  const problem: Problem = {
    horizon: frame.horizon,
    now: frame.now,
    progresses: frame.progresses,
    resources: frame.resources,
    budgets: frame.budgets,
    places: frame.places,
    zones: book.airZones.map(({ name }) => name),
    airLabels: AirLabel.options,
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
    pacePercent: frame.resources.map((_, index) => frame.people[index]?.technician.pacePercent ?? 100),
    notices,
    leftOut,
    jobIndex: (id) => jobIndex.get(id),
    operationIndex: (id, key) => operationIndex.get(`${id} ${key}`),
  };
}
