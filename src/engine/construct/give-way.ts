import type { Book } from './book.ts';
import type { JobInserter } from './insert-job.ts';
import { type InsertOptions, THOROUGH } from './insert-options.ts';
import { pickup } from './job-cost.ts';
import type { JobPlan } from './job-plan.ts';

/** Jobs tried, one by one, to give way to one that gave way itself. */
const MOST_FURTHER = 8;
const QUICK: InsertOptions = { ...THOROUGH, width: 2, restarts: 12 };

export interface GiveWayOptions {
  /** Jobs that may move, in the order in which they are asked. */
  readonly near: readonly number[];
  /** Earliest drop-off wanted. */
  readonly notBefore: number;
  /** Latest pickup at which it is worth moving anybody. */
  readonly latestPickup: number;
  /** Units of search work after which nobody else is asked. */
  readonly mostWork: number;
  /** Asked between attempts, if given: false ends the search as work that is spent does. */
  readonly goesOn?: () => boolean;
  /** Whether a job that was ready sooner may be ready at this minute: a first sieve. */
  readonly mayBeReadyAt: (job: number, minute: number) => boolean;
  /** Asked with the new plans in the book: whether those who moved may move so. */
  readonly accepts: (moved: readonly number[]) => boolean;
}

/**
 * Enters job `j` early by letting one other job, or two, look for another time themselves, at their told hours and without
 * being picked up later than they should: a chain of ejections of length two (Glover 1996). Returns who moved; the book
 * holds the new plans then. Null, with the book as it was, when nobody's giving way helps.
 */
export function giveWay(book: Book, inserter: JobInserter, j: number, options: GiveWayOptions): number[] | null {
  const { near, notBefore, latestPickup, mostWork, goesOn = () => true, mayBeReadyAt, accepts } = options;
  const job = book.jobs[j]!;
  const until = inserter.work + mostWork;
  const isSpent = () => inserter.work >= until || !goesOn();

  function entersInTime(): boolean {
    const plan = inserter.insert(j, { ...QUICK, notBefore });
    if (plan === null || pickup(job, plan) > latestPickup) return false;
    book.enter(j, plan);
    return true;
  }
  function entersAgain(other: number, before: JobPlan): boolean {
    const model = book.jobs[other]!;
    const plan = inserter.insert(other, QUICK);
    if (plan === null) return false;
    const latest = Math.max(pickup(model, before), Math.min(model.promiseAt, model.dueAt));
    if (pickup(model, plan) > latest) return false;
    if (model.ready >= 0 && plan.end[model.ready]! > before.end[model.ready]!) {
      if (!mayBeReadyAt(other, plan.end[model.ready]!)) return false;
    }
    book.enter(other, plan);
    return true;
  }
  function withOneMore(other: number, before: JobPlan): number | null {
    for (const third of near.filter((one) => one !== other).slice(0, MOST_FURTHER)) {
      if (isSpent()) return null;
      const its = book.withdraw(third);
      if (entersAgain(other, before)) {
        if (entersAgain(third, its)) {
          if (accepts([other, third])) return third;
          book.withdraw(third);
        }
        book.withdraw(other);
      }
      book.enter(third, its);
    }
    return null;
  }

  for (const other of near) {
    if (isSpent()) return null;
    const before = book.withdraw(other);
    if (entersInTime()) {
      if (entersAgain(other, before)) {
        if (accepts([other])) return [other];
        book.withdraw(other);
      } else {
        const third = withOneMore(other, before);
        if (third !== null) return [other, third];
      }
      book.withdraw(j);
    }
    book.enter(other, before);
  }
  return null;
}
