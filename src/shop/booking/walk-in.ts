import { StalePlan } from '../../store/store.ts';
import { localDate } from '../../trade/calendar/local-instant.ts';
import { JobId, type PlaceId, type ShopId } from '../../trade/model/ids.ts';
import type { Job } from '../../trade/model/job.ts';
import type { ShopDeps } from '../deps.ts';
import { findJob } from '../jobs/find-job.ts';
import type { JobView } from '../jobs/job-view.ts';
import { loadBook } from '../planning/load-book.ts';
import { publish } from '../planning/publish.ts';
import { Busy, Invalid, NothingFits } from '../problems/problems.ts';
import { inShopTerms } from '../problems/store-refusals.ts';
import { withLessons } from '../promises/floor-lessons.ts';
import { tell } from '../records/tell.ts';
import type { BookingRequest } from './booking-request.ts';
import { draftJob, mustBeAnswered, mustBeBookable } from './draft-job.ts';
import { nearestSlot, slotOf } from './nearest-slot.ts';
import { pickupFor } from './pickup-for.ts';
import { isPlaced, placeJob } from './place-job.ts';

const MOST_TRIES = 8;

/** A walk-in waits at the door for so long at most; common practice. */
const MOST_WAIT_MINUTES = 30;

class SentTwice extends Error {
  readonly jobId: JobId;
  constructor(jobId: JobId) {
    super('recorded before');
    this.jobId = jobId;
  }
}

/**
 * Takes a car that stands at the door now, if it is ready today without breaking a promise. Sent twice with one clientId
 * it is one car.
 * @throws NotFound (shop), Invalid (clientId), Refused, NothingFits (with the nearest slot), Busy
 */
export async function walkIn(
  deps: ShopDeps,
  input: { shopId: ShopId; request: BookingRequest; clientId: string; placeId: PlaceId | null },
): Promise<JobView> {
  const { shopId, clientId } = input;
  const id = JobId.parse(deps.newId());
  for (let tries = 0; tries < MOST_TRIES; tries++) {
    const now = deps.clock();
    const book = await withLessons(deps.store, await loadBook(deps.store, shopId, now));
    const asked: Job = { ...draftJob(input.request, id, book), state: 'booked', earliestDropOff: now };
    mustBeAnswered(mustBeBookable(asked, book));
    const placed = await placeJob(deps, book, asked);
    const slot = isPlaced(placed) ? slotOf(placed) : null;
    const zone = book.shop.timeZone;
    const fits =
      slot !== null &&
      slot.dropOffAt <= now + MOST_WAIT_MINUTES * 60_000 &&
      localDate(slot.readyAt, zone) === localDate(now, zone);
    if (!isPlaced(placed) || slot === null || !fits) {
      const nearest = slot ?? (await nearestSlot(deps, book, asked));
      const reasons = isPlaced(placed) ? [] : placed.reasons;
      throw new NothingFits('It cannot be taken now and be ready today.', '', reasons, nearest);
    }
    const job: Job = {
      ...asked,
      state: 'inShop',
      dropOffAt: now,
      promise: { ...pickupFor(placed.draft, id)!, givenAt: now },
    };
    const placeId = input.placeId ?? placed.draft.plan.stays.find((stay) => stay.jobId === id)!.placeId;
    try {
      await inShopTerms(() =>
        publish(
          deps.store,
          {
            shopId,
            plan: { ...placed.draft.plan, reason: 'walk-in' },
            expectedVersion: book.previousPlan?.version ?? 0,
            jobs: placed.draft.book.jobs,
            exceptions: placed.draft.exceptions,
            alsoWrite: async (records) => {
              await records.jobs.put(shopId, job, 'new');
              const fact = { kind: 'arrived' as const, placeId };
              const arrived = { jobId: id, clientId, occurredAt: now, recordedAt: now, fact };
              const { event, repeated } = await records.floorEvents.append(shopId, arrived);
              if (repeated && event.fact.kind === 'arrived') throw new SentTwice(event.jobId);
              if (repeated) throw new Invalid('The clientId was used for another fact.', 'clientId');
              await tell(records, shopId, now, 'job.changed', id, { state: 'inShop' });
              await tell(records, shopId, now, 'fact.recorded', id, { fact, occurredAt: now, exceptions: [] });
            },
          },
          now,
        ),
      );
      // The plan was made before the car counted as here.
      deps.replanner.ask(shopId, 'walk-in');
      return findJob(deps, { shopId, jobId: id });
    } catch (refusal) {
      if (refusal instanceof SentTwice) return findJob(deps, { shopId, jobId: refusal.jobId });
      if (!(refusal instanceof StalePlan)) throw refusal;
    }
  }
  throw new Busy('Others keep booking; try again.');
}
