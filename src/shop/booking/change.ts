import { StalePlan } from '../../store/store.ts';
import type { Book } from '../../trade/formulate/book.ts';
import type { JobId, ShopId } from '../../trade/model/ids.ts';
import type { Job } from '../../trade/model/job.ts';
import type { Instant } from '../../trade/model/time.ts';
import type { PlanningDeps } from '../deps.ts';
import { findJob } from '../jobs/find-job.ts';
import type { JobView } from '../jobs/job-view.ts';
import { loadBook } from '../planning/load-book.ts';
import { publish } from '../planning/publish.ts';
import { Busy, Invalid, NothingFits } from '../problems/problems.ts';
import { inShopTerms } from '../problems/store-refusals.ts';
import { jobToChange } from '../records/found.ts';
import { tell } from '../records/tell.ts';
import type { BookingChange } from './booking-request.ts';
import { mustBeBookable, priceOf } from './draft-job.ts';
import { nearestSlot } from './nearest-slot.ts';
import { closedAt } from './opening.ts';
import { isPlaced, placeJob, type Unplaced } from './place-job.ts';
import { type PlacedWithPromise, placeWithPromise } from './place-with-promise.ts';

const MOST_TRIES = 8;

/** Changes that leave the plan as it is. */
const WORDS_ONLY: ReadonlySet<string> = new Set(['customer', 'depositNote', 'notes']);

/**
 * Changes a booking and plans it anew; a promise that no longer fits is refused, not broken, and nothing is changed.
 * @throws NotFound, Stale, WrongState, Invalid (dropOffAt), Refused, NothingFits, Busy
 */
export async function change(
  deps: PlanningDeps,
  input: { shopId: ShopId; jobId: JobId; expectedVersion: number; change: BookingChange },
): Promise<JobView> {
  const { shopId, jobId, expectedVersion } = input;
  for (let tries = 0; tries < MOST_TRIES; tries++) {
    const now = deps.clock();
    const before = await jobToChange(deps.store, input, ['held', 'booked', 'inShop']);
    const book = await loadBook(deps.store, shopId, now);
    const asked = changed(before, input.change, book);
    const put = (job: Job): NonNullable<Parameters<typeof publish>[1]['alsoWrite']> => {
      return async (records) => {
        await records.jobs.put(shopId, job, expectedVersion);
        await tell(records, shopId, now, 'job.changed', jobId, { state: job.state });
      };
    };
    if (Object.keys(input.change).every((field) => WORDS_ONLY.has(field))) {
      await inShopTerms(() => deps.store.transaction(shopId, put(asked)));
      return findJob(deps, { shopId, jobId });
    }
    if (asked.state !== 'inShop') mustBeBookable(asked, book);
    const { dropOffAt, pickupAt } = input.change;
    const closed = dropOffAt === undefined ? null : closedAt(book, asked, 'dropOffAt', dropOffAt);
    const result =
      closed !== null
        ? { reasons: [closed] }
        : pickupAt === undefined
          ? await placeAsPromised(deps, book, asked)
          : await placeWithPromise(deps, book, asked, pickupAt);
    if (!isPlaced(result)) {
      const nearest = await nearestSlot(deps, book, asked);
      const field = Object.keys(input.change)[0] ?? '';
      throw new NothingFits('The booking does not fit with this change.', field, result.reasons, nearest);
    }
    const { draft } = result;
    const job = promisedAnew(before, result.job, input.change);
    try {
      await inShopTerms(() =>
        publish(
          deps.store,
          {
            shopId,
            plan: { ...draft.plan, reason: `changed: ${job.vehicle.registration || job.id}` },
            expectedVersion: book.previousPlan?.version ?? 0,
            jobs: draft.book.jobs,
            exceptions: draft.exceptions,
            alsoWrite: put(job),
          },
          now,
        ),
      );
      return findJob(deps, { shopId, jobId });
    } catch (refusal) {
      if (!(refusal instanceof StalePlan)) throw refusal;
    }
  }
  throw new Busy('Others keep booking; try again.');
}

/** The job where its promise, if it has one, is kept. */
async function placeAsPromised(deps: PlanningDeps, book: Book, job: Job): Promise<PlacedWithPromise | Unplaced> {
  const placed = await placeJob(deps, book, job);
  if (!isPlaced(placed)) return placed;
  if (placed.planned.lateMinutes === 0) return { ...placed, job };
  const text = `It would be ${placed.planned.lateMinutes} minutes after its promise; give a new pickup with the change.`;
  return { reasons: [{ rule: 'promise', field: 'pickupAt', text }] };
}

/** A promise taken back for the same work is remembered: how well promises are kept counts it too. */
function promisedAnew({ promise }: Job, job: Job, change: BookingChange): Job {
  const isSameWork = Object.keys(change).every((field) => field === 'pickupAt' || WORDS_ONLY.has(field));
  if (!isSameWork || promise === null || promise.pickupAt === job.promise?.pickupAt) return job;
  return { ...job, formerPromises: [...(job.formerPromises ?? []), promise] };
}

function changed(before: Job, change: BookingChange, book: Book): Job {
  if (change.dropOffAt !== undefined) {
    if (before.state === 'inShop') throw new Invalid('The car is here already.', 'dropOffAt');
    if (change.dropOffAt < book.now) throw new Invalid('The drop-off lies in the past.', 'dropOffAt');
  }
  if (before.state === 'inShop' && change.recipeId !== undefined && change.recipeId !== before.recipeId) {
    throw new Invalid('Work on the car has its recipe already; it keeps it.', 'recipeId');
  }
  const earliestDropOff = Math.min(before.earliestDropOff, change.dropOffAt ?? before.earliestDropOff) as Instant;
  const { pickupAt: _, ...fields } = change;
  // Hours decided for single operations were decided for the day it was to come.
  const wishes = change.dropOffAt === undefined || before.wishes === undefined ? {} : { wishes: [] };
  const job: Job = { ...before, ...fields, ...wishes, earliestDropOff };
  return { ...job, priceMinor: priceOf(job, book) };
}
