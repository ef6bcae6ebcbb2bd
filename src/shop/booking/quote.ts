import { addDays, dayStart, localDate } from '../../trade/calendar/local-instant.ts';
import type { Book } from '../../trade/formulate/book.ts';
import { JobId, type ShopId } from '../../trade/model/ids.ts';
import type { Job } from '../../trade/model/job.ts';
import type { PlannedOperation, PlannedStay } from '../../trade/model/plan.ts';
import type { Instant } from '../../trade/model/time.ts';
import type { PlanningDeps } from '../deps.ts';
import { loadBook } from '../planning/load-book.ts';
import { NothingFits, Refused } from '../problems/problems.ts';
import type { Objection } from '../problems/shop-problem.ts';
import type { BookingRequest } from './booking-request.ts';
import type { SlotWhy } from './desk.ts';
import { type Displaced, displacedBetween } from './displaced.ts';
import { draftJob, mustBeBookable } from './draft-job.ts';
import { nearestSlot, slotOf } from './nearest-slot.ts';
import { bookToQuoteFrom } from './open-at-desk.ts';
import { isPlaced, placeJob, type Unplaced } from './place-job.ts';
import { type PlacedWithPromise, placeWithPromise } from './place-with-promise.ts';

export interface QuoteChoice {
  readonly why: SlotWhy;
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
  /** Whom it displaces, without breaking any promise. */
  readonly displaces: readonly Displaced[];
}

const MINUTE = 60_000;
/** A car is brought no sooner after its quote: somebody has to say yes and get in. */
const ON_THE_WAY_MS = 5 * MINUTE;
/** Drop-offs that hold the car but not until a pickup that may be promised: so many are passed over, each by an hour. */
const MOST_PASSED_OVER = 3;
const PASSED_OVER_MS = 60 * MINUTE;

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
 * A few slots that hold the car without breaking any promise: from the open book, moving nobody, and when that has none, by
 * planning the others anew around it. Nothing is kept: `hold` keeps one.
 * @throws NotFound (shop), Refused when the trade objects, NothingFits with why and the nearest, Busy
 */
export async function quote(deps: PlanningDeps, input: { shopId: ShopId; request: BookingRequest }): Promise<Quote> {
  return (await quoteFromOpenBook(deps, input)) ?? quotePlannedAnew(deps, input);
}

/** Null when nothing is found without moving anybody. */
async function quoteFromOpenBook(
  deps: PlanningDeps,
  { shopId, request }: { shopId: ShopId; request: BookingRequest },
): Promise<Quote | null> {
  if (deps.desk === undefined) return null;
  const { standing, which } = await bookToQuoteFrom({ ...deps, desk: deps.desk }, shopId);
  const now = deps.clock();
  const book = { ...standing.book, now };
  const drafted = draftJob(request, JobId.parse(deps.newId()), book);
  const questions = mustBeBookable(drafted, book);
  const soonestDropOff = (Math.ceil((now + ON_THE_WAY_MS) / MINUTE) * MINUTE) as Instant;
  const job: Job = { ...drafted, earliestDropOff: Math.max(request.earliestDropOff, soonestDropOff) as Instant };
  const question = { kind: 'slots', job, wantedDropOffAt: request.wantedDropOffAt } as const;
  const answer = await deps.desk.ask(standing, question, which);
  if (answer.kind === 'noPlace') {
    const text = 'No slot in the weeks that are open holds the car.';
    throw new NothingFits(text, 'earliestDropOff', answer.reasons, null);
  }
  if (answer.kind !== 'slots') return null;
  const choices = answer.slots.map((slot) => ({ ...slot, priceMinor: job.priceMinor }));
  return asQuote(book, choices, questions, answer.planVersion);
}

function asQuote(
  { shop }: Book,
  choices: readonly QuoteChoice[],
  questions: ReturnType<typeof mustBeBookable>,
  planVersion: number,
): Quote {
  return { choices, currency: shop.currency, advice: questions.map((each) => each.text), planVersion };
}

async function quotePlannedAnew(
  deps: PlanningDeps,
  { shopId, request }: { shopId: ShopId; request: BookingRequest },
): Promise<Quote> {
  const book = await loadBook(deps.store, shopId, deps.clock());
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
  return asQuote(book, soonestFirst(choices), questions, book.previousPlan?.version ?? 0);
}

/** The soonest pickup first; a drop-off that comes earlier and is ready no sooner is no choice, unless it was wished for. */
function soonestFirst(choices: readonly QuoteChoice[]): QuoteChoice[] {
  const pickupAt = Math.min(...choices.map((each) => each.pickupAt));
  const dropOffAt = Math.max(...choices.filter((each) => each.pickupAt === pickupAt).map((each) => each.dropOffAt));
  const soonest = choices.find((each) => each.dropOffAt === dropOffAt)!;
  const others = choices.filter((each) => each.dropOffAt > dropOffAt || (each !== soonest && each.why === 'wantedDay'));
  return [{ ...soonest, why: 'soonest' }, ...others];
}

/** A choice planned at its hour with its promise, as a hold would plan it; a drop-off that cannot be promised is passed over. */
async function choiceFrom(
  deps: PlanningDeps,
  book: Book,
  job: Job,
  why: QuoteChoice['why'],
  reasons: Objection[],
): Promise<QuoteChoice | null> {
  let { earliestDropOff } = job;
  for (let tries = 0; tries < MOST_PASSED_OVER; tries++) {
    const placed = await placeJob(deps, book, { ...job, earliestDropOff });
    const slot = isPlaced(placed) ? slotOf(placed) : null;
    if (!isPlaced(placed)) reasons.push(...placed.reasons);
    if (slot === null) return null;
    const told = { ...job, earliestDropOff, dropOffAt: slot.dropOffAt };
    const kept = await placeWithPromise(deps, book, told, null).catch(unlessRefused);
    if (isPlaced(kept)) return choiceOf(why, kept, book);
    reasons.push(...kept.reasons);
    earliestDropOff = (slot.dropOffAt + PASSED_OVER_MS) as Instant;
  }
  return null;
}

function unlessRefused(problem: unknown): Unplaced {
  if (problem instanceof Refused) return { reasons: problem.objections };
  throw problem;
}

function choiceOf(why: QuoteChoice['why'], { job, draft, planned }: PlacedWithPromise, book: Book): QuoteChoice {
  const { operations, stays } = draft.plan;
  const { pickupAt, confidencePercent } = job.promise!;
  return {
    why,
    dropOffAt: planned.dropOffAt,
    readyAt: planned.readyAt,
    pickupAt,
    confidencePercent,
    priceMinor: job.priceMinor,
    operations: operations.filter((each) => each.jobId === job.id),
    stays: stays.filter((each) => each.jobId === job.id),
    displaces: displacedBetween(book.previousPlan, draft.plan, book.jobs),
  };
}
