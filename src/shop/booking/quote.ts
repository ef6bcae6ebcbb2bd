import { addDays, dayStart, localDate } from '../../trade/calendar/local-instant.ts';
import type { Book } from '../../trade/formulate/book.ts';
import { JobId, type ShopId } from '../../trade/model/ids.ts';
import type { Job } from '../../trade/model/job.ts';
import type { PlannedOperation, PlannedStay } from '../../trade/model/plan.ts';
import type { Instant } from '../../trade/model/time.ts';
import type { PlanningDeps } from '../deps.ts';
import { loadBook } from '../planning/load-book.ts';
import { NothingFits } from '../problems/problems.ts';
import type { Objection } from '../problems/shop-problem.ts';
import type { BookingRequest } from './booking-request.ts';
import { draftJob, mustBeBookable } from './draft-job.ts';
import { nearestSlot, slotOf } from './nearest-slot.ts';
import { isPlaced, placeJob } from './place-job.ts';

export interface QuoteChoice {
  /** `soonest`; `wantedDay`: nearest to the wanted drop-off; `laterDay`: a day or more after the soonest. */
  readonly why: 'soonest' | 'wantedDay' | 'laterDay';
  readonly dropOffAt: Instant;
  /** When the plan has the car finished. */
  readonly readyAt: Instant;
  /** What may be told to the customer: buffered, in opening hours. */
  readonly pickupAt: Instant;
  /** Probability that the car is ready by `pickupAt`, in percent, as computed. */
  readonly confidencePercent: number;
  readonly priceMinor: number;
  readonly operations: readonly PlannedOperation[];
  readonly stays: readonly PlannedStay[];
}

export interface Quote {
  readonly choices: readonly QuoteChoice[];
  /** ISO 4217. */
  readonly currency: string;
  /** What the desk should say or ask, none of it an obstacle to a hold. */
  readonly advice: readonly string[];
  /** The plan the choices were found in; they hold until it changes. */
  readonly planVersion: number;
}

/**
 * A few slots that hold the car without breaking any promise. Nothing is kept: `hold` keeps one.
 * @throws NotFound (shop), Refused when the trade objects, NothingFits with why and the nearest, Busy
 */
export async function quote(deps: PlanningDeps, input: { shopId: ShopId; request: BookingRequest }): Promise<Quote> {
  const { request } = input;
  const book = await loadBook(deps.store, input.shopId, deps.clock());
  const job = draftJob(request, JobId.parse(deps.newId()), book);
  const questions = mustBeBookable(job, book);
  const choices: QuoteChoice[] = [];
  const reasons: Objection[] = [];
  const offer = async (why: QuoteChoice['why'], earliestDropOff: Instant) => {
    const choice = await choiceFrom(deps, book, { ...job, earliestDropOff }, why, reasons);
    if (choice !== null && choices.every((each) => each.dropOffAt !== choice.dropOffAt)) choices.push(choice);
    return choice;
  };
  const soonest = await offer('soonest', Math.max(request.earliestDropOff, book.now) as Instant);
  if (soonest === null) {
    const nearest = await nearestSlot(deps, book, job);
    const when = `within ${book.horizonDays} days`;
    throw new NothingFits(
      `No slot ${when} holds the car without breaking a promise.`,
      'earliestDropOff',
      reasons,
      nearest,
    );
  }
  const wanted = request.wantedDropOffAt;
  if (wanted !== null && wanted > soonest.dropOffAt) await offer('wantedDay', wanted);
  const zone = book.shop.timeZone;
  const last = Math.max(...choices.map((each) => each.dropOffAt)) as Instant;
  await offer('laterDay', dayStart(addDays(localDate(last, zone), 1), zone));
  return {
    choices,
    currency: book.shop.currency,
    advice: questions.map((each) => each.text),
    planVersion: book.previousPlan?.version ?? 0,
  };
}

async function choiceFrom(
  deps: PlanningDeps,
  book: Book,
  job: Job,
  why: QuoteChoice['why'],
  reasons: Objection[],
): Promise<QuoteChoice | null> {
  const placed = await placeJob(deps, book, job);
  if (!isPlaced(placed)) {
    reasons.push(...placed.reasons);
    return null;
  }
  const slot = slotOf(placed);
  if (slot === null) return null;
  const { operations, stays } = placed.draft.plan;
  return {
    why,
    ...slot,
    priceMinor: job.priceMinor,
    operations: operations.filter((each) => each.jobId === job.id),
    stays: stays.filter((each) => each.jobId === job.id),
  };
}
