import type { Job } from '../model/job.ts';
import type { Recipe } from '../model/recipe.ts';
import type { Book, Releases } from './book.ts';
import { CannotPlan, Car } from './car.ts';
import { coatingTimes } from './coating-times.ts';
import type { CrewNeed } from './crews.ts';
import { eventsByJob } from './events-by-job.ts';
import { type FloorRecord, readFloor } from './floor-record.ts';
import type { LeftOut, Notice } from './formulation.ts';
import { type Frame, frameOf } from './frame.ts';
import { type JobWriting, writeJob } from './job-writer.ts';
import { modeMaker } from './modes.ts';
import { emptyDraft, lengthsOf, type ProblemDraft, takeBack } from './problem-draft.ts';
import { sharedNeeds } from './same-crew.ts';
import { type Stander, type Standing, whereCarsStand } from './standing.ts';

const open: ReadonlySet<Job['state']> = new Set(['held', 'booked', 'inShop']);

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
  const writer = new BookWriter(book, releases);
  writer.writeCars();
  return writer;
}

class BookWriter implements WrittenBook {
  readonly frame: Frame;
  readonly draft = emptyDraft();
  readonly notices: Notice[] = [];
  readonly leftOut: LeftOut[] = [];
  readonly #releases: Releases;
  readonly #writing: Omit<JobWriting, 'needs'>;
  /** By recipe. */
  readonly #needs = new Map<string, ReadonlyMap<string, readonly CrewNeed[]>>();

  constructor(book: Book, releases: Releases) {
    this.frame = frameOf(book);
    const times = coatingTimes(this.frame);
    this.#releases = releases;
    this.#writing = { draft: this.draft, maker: modeMaker(this.frame, times), times, releases };
  }

  write({ job, record }: Stander, standing: Standing | undefined, notices: Notice[]): void {
    const car = new Car(this.frame, { job, record }, this.draft.jobs.length, standing, notices);
    const before = lengthsOf(this.draft);
    try {
      writeJob(car, { ...this.#writing, needs: this.#needsOf(car.recipe) });
    } catch (error) {
      takeBack(before);
      throw error;
    }
  }

  /** Writes all that the book has. */
  writeCars(): void {
    const { cars, aside } = openCars(this.frame, this.#releases);
    const standing = whereCarsStand(this.frame, cars, this.notices);
    for (const car of cars) this.#writeOrLeaveOut(car, standing.get(car.job.id));
    // Two facts in one place are nothing that a plan can mend: the car that is planned counts.
    const stoodIn = new Set<number>();
    for (const { place } of standing.values()) stoodIn.add(place);
    for (const { place } of whereCarsStand(this.frame, aside, []).values()) {
      if (!stoodIn.has(place)) this.#take(place);
    }
  }

  #writeOrLeaveOut(car: Stander, standing: Standing | undefined): void {
    const heard: Notice[] = [];
    try {
      this.write(car, standing, heard);
      this.notices.push(...heard);
    } catch (error) {
      if (!(error instanceof CannotPlan)) throw error;
      this.leftOut.push(error.leftOut(car.job));
      // A car that cannot be planned still stands where it stands.
      if (standing !== undefined) this.#take(standing.place);
    }
  }

  #take(place: number): void {
    this.draft.takenPlaces.push({ place, from: this.frame.now, to: this.frame.horizon });
  }

  #needsOf(recipe: Recipe): ReadonlyMap<string, readonly CrewNeed[]> {
    let needs = this.#needs.get(recipe.id);
    if (needs === undefined) {
      needs = sharedNeeds(recipe, this.frame);
      this.#needs.set(recipe.id, needs);
    }
    return needs;
  }
}

/** Open jobs with what has happened to them, those left out whose car is gone; apart, those that are not planned. */
function openCars(
  { book, recipeOf }: Frame,
  releases: Releases,
): { readonly cars: readonly Stander[]; readonly aside: readonly Stander[] } {
  const eventsOf = eventsByJob(book.events);
  const cars: Stander[] = [];
  const aside: Stander[] = [];
  for (const job of book.jobs) {
    if (!open.has(job.state)) continue;
    const record = readFloor(eventsOf.get(job.id) ?? [], book.now);
    if (hasGone(record, recipeOf.get(job.recipeId))) continue;
    const car = { job: releases.wishesOf?.has(job.id) ? { ...job, wishes: [] } : job, record };
    (releases.aside?.has(job.id) ? aside : cars).push(car);
  }
  return { cars, aside };
}

/** Picked up, or handed over: nothing is left to plan. */
function hasGone({ pickedUp, work }: FloorRecord, recipe: Recipe | undefined): boolean {
  if (pickedUp || recipe === undefined) return pickedUp;
  const { steps } = recipe;
  for (let k = steps.length - 1; k >= 0; k--) {
    if (steps[k]!.kind === 'handover') return work.get(steps[k]!.key)?.state === 'finished';
  }
  return false;
}
