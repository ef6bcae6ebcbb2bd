import { bookingObjections } from '../../trade/booking/booking-objections.ts';
import type { BookingObjection } from '../../trade/booking/objection.ts';
import type { Book } from '../../trade/formulate/book.ts';
import { coatingNeed } from '../../trade/materials/coating-need.ts';
import type { CoatingId, JobId } from '../../trade/model/ids.ts';
import type { Job } from '../../trade/model/job.ts';
import { jobPrice } from '../../trade/price/job-price.ts';
import { workFacts } from '../../trade/work-content/work-facts.ts';
import { Invalid, Refused } from '../problems/problems.ts';
import { madeOnce } from '../records/made-once.ts';
import type { BookingRequest } from './booking-request.ts';

/** A job as asked for, not yet anywhere. */
export function draftJob(request: BookingRequest, id: JobId, book: Book): Job {
  const { wantedDropOffAt: _, ...asked } = request;
  const job: Job = {
    ...asked,
    id,
    state: 'held',
    dropOffAt: null,
    promise: null,
    holdUntil: null,
    depositNote: '',
    inspection: null,
    scope: null,
    priceMinor: 0,
    createdAt: book.now,
    version: 0,
  };
  return { ...job, priceMinor: priceOf(job, book) };
}

/** The price of a job as it stands. @throws Invalid (recipeId) */
export function priceOf(job: Job, book: Book): number {
  const recipe = book.recipes.find((each) => each.id === job.recipeId);
  if (recipe === undefined) throw new Invalid(`There is no recipe "${job.recipeId}".`, 'recipeId');
  return jobPrice(recipe, job, workFacts(job, book.shop), book.shop, book.coatings).minor;
}

/**
 * What the trade says against a job before a slot is looked for. Returns what a person must still ask.
 * @throws Refused when it cannot be booked as it stands
 */
export function mustBeBookable(job: Job, book: Book): readonly BookingObjection[] {
  const bookedMillilitres = millilitresBooked(job.id, book);
  // An hour that has passed while the car is awaited speaks against nothing but the hour.
  const dropOffAt = job.dropOffAt !== null && job.dropOffAt < book.now ? null : job.dropOffAt;
  const objections = bookingObjections({ ...job, dropOffAt }, { ...book, bookedMillilitres }, book.now);
  const refusals = objections.filter((each) => each.severity === 'refuse');
  if (refusals.length > 0) {
    throw new Refused(
      `It cannot be booked as it stands: ${refusals.map((each) => each.text).join('; ')}.`,
      refusals.map((each) => ({ rule: 'booking', field: each.field, text: each.text })),
    );
  }
  return objections;
}

/** Nothing is sold while a question of the trade is open. @throws Refused */
export function mustBeAnswered(questions: readonly BookingObjection[]): void {
  if (questions.length === 0) return;
  throw new Refused(
    `First to be answered: ${questions.map((each) => each.text).join('; ')}.`,
    questions.map((each) => ({ rule: 'booking', field: each.field, text: each.text })),
  );
}

/** Of each coating, what the other jobs of the book are going to need. */
function millilitresBooked(except: JobId, book: Book): Map<CoatingId, number> {
  const all = madeOnce(book.jobs, 'millilitres booked', [book.recipes, book.coatings], () => {
    const booked = new Map<CoatingId, number>();
    for (const job of book.jobs) addNeed(booked, job, book, 1);
    return booked;
  });
  const own = book.jobs.find(({ id }) => id === except);
  const booked = new Map(all);
  if (own !== undefined) addNeed(booked, own, book, -1);
  return booked;
}

function addNeed(booked: Map<CoatingId, number>, job: Job, { recipes, coatings }: Book, times: 1 | -1): void {
  const recipe = recipes.find((each) => each.id === job.recipeId);
  if (recipe === undefined) return;
  for (const [coating, millilitres] of coatingNeed(recipe, job.vehicle.class, job.addOns, coatings)) {
    booked.set(coating, (booked.get(coating) ?? 0) + times * millilitres);
  }
}
