import { StalePlan } from '../../store/store.ts';
import type { Book } from '../../trade/formulate/book.ts';
import { JobId, type ShopId } from '../../trade/model/ids.ts';
import type { Job } from '../../trade/model/job.ts';
import type { Plan } from '../../trade/model/plan.ts';
import type { Instant } from '../../trade/model/time.ts';
import type { PlanningDeps } from '../deps.ts';
import { type JobView, jobView } from '../jobs/job-view.ts';
import { loadBook } from '../planning/load-book.ts';
import { publish } from '../planning/publish.ts';
import { Busy, Invalid, NothingFits, Refused, SlotGone } from '../problems/problems.ts';
import { inShopTerms } from '../problems/store-refusals.ts';
import type { ToRaise } from '../records/raise-exception.ts';
import { tell } from '../records/tell.ts';
import type { AlsoAnswer } from '../requests/answer-once.ts';
import type { BookingRequest } from './booking-request.ts';
import type { StandingBook } from './desk.ts';
import { draftJob, mustBeAnswered, mustBeBookable } from './draft-job.ts';
import { nearestSlot } from './nearest-slot.ts';
import { closedAt } from './opening.ts';
import { isPlaced } from './place-job.ts';
import { placeWithPromise, refuseUnsure } from './place-with-promise.ts';
import { noteSale, standingBook } from './standing-book.ts';

/** Times a slot is looked for again because another booking was published first. */
const MOST_TRIES = 8;

export interface Sale {
  readonly shopId: ShopId;
  readonly request: BookingRequest;
  readonly dropOffAt: Instant;
  /** The pickup told to the customer; null: the one the plan gives. */
  readonly pickupAt: Instant | null;
  readonly depositNote: string;
  /** The plan the choice was quoted from, if it was: whom a newer plan refuses has lost a race. */
  readonly planVersion?: number | null;
  readonly state: 'held' | 'booked';
  readonly holdUntil: Instant | null;
}

/**
 * Puts a car into the book at the hour told to its customer: planned, checked, and published together with the job in
 * one transaction that compares and swaps the plan. Of two that want the last slot one gets it; the other is planned
 * again around the first, or told what fits next.
 */
export async function sell(deps: PlanningDeps, sale: Sale, alsoAnswer?: AlsoAnswer<JobView>): Promise<JobView> {
  const { shopId } = sale;
  if (sale.dropOffAt < deps.clock()) throw new Invalid('The drop-off lies in the past.', 'dropOffAt');
  if (sale.pickupAt !== null && sale.pickupAt <= sale.dropOffAt) {
    throw new Invalid('The pickup comes after the drop-off.', 'pickupAt');
  }
  const id = JobId.parse(deps.newId());
  let planVersion = sale.planVersion ?? null;
  for (let tries = 0; tries < MOST_TRIES; tries++) {
    const { job, plan, exceptions, book, standing } =
      (await fromOpenBook(deps, { ...sale, planVersion }, id)) ??
      (await plannedAnew(deps, { ...sale, planVersion }, id));
    const now = deps.clock();
    try {
      const published = await inShopTerms(() =>
        publish(
          deps.store,
          {
            shopId,
            plan: { ...plan, reason: reasonOf(sale, id) },
            expectedVersion: book.previousPlan?.version ?? 0,
            jobs: [...book.jobs, job],
            standing: book.previousPlan,
            exceptions,
            alsoWrite: async (records) => {
              await records.jobs.put(shopId, job, 'new');
              await tell(records, shopId, now, 'job.changed', id, { state: job.state });
            },
            alsoAnswer: async (records, published) => {
              const put = await records.jobs.get(shopId, id);
              await alsoAnswer?.(records, jobView(put?.value ?? job, published));
            },
          },
          now,
        ),
      );
      const stored = await deps.store.jobs.get(shopId, id);
      if (standing !== undefined && stored !== null) await noteSale(deps.store, standing, stored.value, published);
      return jobView(stored?.value ?? job, published);
    } catch (refusal) {
      if (!(refusal instanceof StalePlan)) throw refusal;
      planVersion ??= book.previousPlan?.version ?? 0;
    }
  }
  throw new Busy('Others keep booking; try again.');
}

/** A car in a checked plan with its promise, and the book the plan was made from. */
interface Sold {
  readonly job: Job;
  readonly plan: Plan;
  readonly exceptions: readonly ToRaise[];
  readonly book: Book;
  /** The open book it was sold from. */
  readonly standing?: StandingBook;
}

const reasonOf = ({ state, request }: Sale, id: JobId): string => `${state}: ${request.vehicle.registration || id}`;

function askedFor(sale: Sale, id: JobId, book: Book): Job {
  return {
    ...draftJob(sale.request, id, book),
    state: sale.state,
    holdUntil: sale.holdUntil,
    depositNote: sale.depositNote,
    dropOffAt: sale.dropOffAt,
    earliestDropOff: Math.min(sale.request.earliestDropOff, sale.dropOffAt) as Instant,
  };
}

/**
 * The slot as a quote from the open book has it; null when that cannot tell and the whole book is to be planned with the car.
 * @throws NothingFits, SlotGone, Refused (pickupAt) when it can tell that there is none
 */
async function fromOpenBook(deps: PlanningDeps, sale: Sale, id: JobId): Promise<Sold | null> {
  if (deps.desk === undefined) return null;
  const now = deps.clock();
  const standing = await standingBook(deps.store, sale.shopId, now);
  const book = { ...standing.book, now };
  const asked = askedFor(sale, id, book);
  const questions = mustBeBookable(asked, book);
  if (sale.state === 'booked') mustBeAnswered(questions);
  if (closedAt(book, asked, 'dropOffAt', sale.dropOffAt) !== null) return null;
  const question = { kind: 'keep' as const, job: asked, pickupAt: sale.pickupAt, reason: reasonOf(sale, id) };
  const answer = await deps.desk.ask(standing, question);
  if (answer.kind === 'broken') {
    deps.log.error({ violations: answer.violations }, 'a slot of the open book broke a rule and was not sold');
  }
  const isGone = lostARace(sale, book);
  if (answer.kind === 'noPlace' || (answer.kind === 'unsure' && isGone)) {
    if (isGone) throw new SlotGone(await nearestTo(deps, book, asked));
    if (answer.kind === 'noPlace') return nothing(deps, book, asked, answer.reasons);
  }
  if (answer.kind === 'unsure') refuseUnsure(book, answer.confidencePercent, answer.earliest);
  if (answer.kind !== 'kept') return null;
  const promise = answer.job.promise === null ? null : { ...answer.job.promise, givenAt: now };
  return { job: { ...answer.job, promise }, plan: answer.plan, exceptions: answer.exceptions, book, standing };
}

/** Whether a choice was quoted from another plan than the one that stands. */
function lostARace({ planVersion }: Pick<Sale, 'planVersion'>, book: Book): boolean {
  return (planVersion ?? null) !== null && planVersion !== (book.previousPlan?.version ?? 0);
}

/** Plans the book with the car at its hour, finds or judges its pickup, and plans it again with the promise. */
async function plannedAnew(deps: PlanningDeps, sale: Sale, id: JobId): Promise<Sold> {
  const book = await loadBook(deps.store, sale.shopId, deps.clock());
  const asked = askedFor(sale, id, book);
  const questions = mustBeBookable(asked, book);
  if (sale.state === 'booked') mustBeAnswered(questions);
  const closed = closedAt(book, asked, 'dropOffAt', sale.dropOffAt);
  if (closed !== null) return nothing(deps, book, asked, [closed]);
  const taken = lostARace(sale, book);
  const gone = async () => new SlotGone(await nearestTo(deps, book, asked));
  const result = await placeWithPromise(deps, book, asked, sale.pickupAt).catch(async (problem: unknown) => {
    throw taken && problem instanceof Refused ? await gone() : problem;
  });
  if (!isPlaced(result)) {
    if (taken) throw await gone();
    return nothing(deps, book, asked, result.reasons);
  }
  const { plan, exceptions } = result.draft;
  return { job: result.job, plan, exceptions, book };
}

async function nothing(
  deps: PlanningDeps,
  book: Book,
  asked: Job,
  reasons: ConstructorParameters<typeof NothingFits>[2],
): Promise<never> {
  const nearest = await nearestTo(deps, book, asked);
  throw new NothingFits('The car does not fit at this hour without breaking a promise.', 'dropOffAt', reasons, nearest);
}

function nearestTo(deps: PlanningDeps, book: Book, asked: Job) {
  return nearestSlot(deps, book, { ...asked, earliestDropOff: asked.dropOffAt! });
}
