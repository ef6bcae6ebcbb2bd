import { StalePlan } from '../../store/store.ts';
import type { Book } from '../../trade/formulate/book.ts';
import { JobId, type ShopId } from '../../trade/model/ids.ts';
import type { Job } from '../../trade/model/job.ts';
import type { Instant } from '../../trade/model/time.ts';
import type { PlanningDeps } from '../deps.ts';
import { type JobView, jobView } from '../jobs/job-view.ts';
import { loadBook } from '../planning/load-book.ts';
import { publish } from '../planning/publish.ts';
import { Busy, Invalid, NothingFits, SlotGone } from '../problems/problems.ts';
import { inShopTerms } from '../problems/store-refusals.ts';
import { tell } from '../records/tell.ts';
import type { BookingRequest } from './booking-request.ts';
import { draftJob, mustBeAnswered, mustBeBookable } from './draft-job.ts';
import { nearestSlot } from './nearest-slot.ts';
import { closedAt } from './opening.ts';
import { isPlaced, type Placed } from './place-job.ts';
import { placeWithPromise } from './place-with-promise.ts';

/** Times a slot is looked for again because another booking was published first. */
const MOST_TRIES = 8;

export interface Sale {
  readonly shopId: ShopId;
  readonly request: BookingRequest;
  readonly dropOffAt: Instant;
  /** The pickup told to the customer; null: the one the plan gives. */
  readonly pickupAt: Instant | null;
  readonly depositNote: string;
  readonly state: 'held' | 'booked';
  readonly holdUntil: Instant | null;
}

/**
 * Puts a car into the book at the hour told to its customer: planned, checked, and published together with the job in
 * one transaction that compares and swaps the plan. Of two that want the last slot one gets it; the other is planned
 * again around the first, or told what fits next.
 */
export async function sell(deps: PlanningDeps, sale: Sale): Promise<JobView> {
  const { shopId } = sale;
  if (sale.dropOffAt < deps.clock()) throw new Invalid('The drop-off lies in the past.', 'dropOffAt');
  if (sale.pickupAt !== null && sale.pickupAt <= sale.dropOffAt) {
    throw new Invalid('The pickup comes after the drop-off.', 'pickupAt');
  }
  const id = JobId.parse(deps.newId());
  for (let tries = 0; tries < MOST_TRIES; tries++) {
    const book = await loadBook(deps.store, shopId, deps.clock());
    const { placed, job } = await placedWithPromise(deps, book, sale, id, tries > 0);
    try {
      const expectedVersion = book.previousPlan?.version ?? 0;
      const { plan, exceptions } = placed.draft;
      const published = await inShopTerms(() =>
        publish(
          deps.store,
          {
            shopId,
            plan: { ...plan, reason: `${sale.state}: ${job.vehicle.registration || job.id}` },
            expectedVersion,
            jobs: [...book.jobs, job],
            exceptions,
            alsoWrite: async (records) => {
              await records.jobs.put(shopId, job, 'new');
              await tell(records, shopId, book.now, 'job.changed', id, { state: job.state });
            },
          },
          book.now,
        ),
      );
      const stored = await deps.store.jobs.get(shopId, id);
      return jobView(stored?.value ?? job, published);
    } catch (refusal) {
      if (!(refusal instanceof StalePlan)) throw refusal;
    }
  }
  throw new Busy('Others keep booking; try again.');
}

/** Plans the car at its hour, finds or judges its pickup, and plans it again with the promise. */
async function placedWithPromise(
  deps: PlanningDeps,
  book: Book,
  sale: Sale,
  id: JobId,
  raced: boolean,
): Promise<{ placed: Placed; job: Job }> {
  const asked: Job = {
    ...draftJob(sale.request, id, book),
    state: sale.state,
    holdUntil: sale.holdUntil,
    depositNote: sale.depositNote,
    dropOffAt: sale.dropOffAt,
    earliestDropOff: Math.min(sale.request.earliestDropOff, sale.dropOffAt) as Instant,
  };
  const questions = mustBeBookable(asked, book);
  if (sale.state === 'booked') mustBeAnswered(questions);
  const closed = closedAt(book, asked, 'dropOffAt', sale.dropOffAt);
  if (closed !== null) return nothing(deps, book, asked, raced, [closed]);
  const result = await placeWithPromise(deps, book, asked, sale.pickupAt);
  return isPlaced(result) ? { placed: result, job: result.job } : nothing(deps, book, asked, raced, result.reasons);
}

async function nothing(
  deps: PlanningDeps,
  book: Book,
  asked: Job,
  raced: boolean,
  reasons: ConstructorParameters<typeof NothingFits>[2],
): Promise<never> {
  const nearest = await nearestSlot(deps, book, { ...asked, earliestDropOff: asked.dropOffAt! });
  if (raced) throw new SlotGone(nearest);
  throw new NothingFits('The car does not fit at this hour without breaking a promise.', 'dropOffAt', reasons, nearest);
}
