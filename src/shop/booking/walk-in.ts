import { StalePlan } from '../../store/store.ts';
import { JobId, type PlaceId, type ShopId } from '../../trade/model/ids.ts';
import type { Instant } from '../../trade/model/time.ts';
import type { ShopDeps } from '../deps.ts';
import { findJob } from '../jobs/find-job.ts';
import type { JobView } from '../jobs/job-view.ts';
import { publish } from '../planning/publish.ts';
import { Busy, Invalid } from '../problems/problems.ts';
import { inShopTerms } from '../problems/store-refusals.ts';
import { tell } from '../records/tell.ts';
import type { BookingRequest } from './booking-request.ts';
import { takeAtTheDoor } from './take-at-the-door.ts';

const MOST_TRIES = 8;
/** What a tablet sends again, it sends within a day. */
const SENT_AGAIN_MS = 86_400_000;

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
  // The car that is here already may be what leaves no room for a second one.
  const before = await deps.store.floorEvents.listRecordedSince(shopId, (deps.clock() - SENT_AGAIN_MS) as Instant);
  const same = before.find((event) => event.clientId === clientId && event.fact.kind === 'arrived');
  if (same !== undefined) return findJob(deps, { shopId, jobId: same.jobId });
  for (let tries = 0; tries < MOST_TRIES; tries++) {
    const now = deps.clock();
    const { job, plan, exceptions, book } = await takeAtTheDoor(deps, input, id, now);
    const placeId = input.placeId ?? plan.stays.find((stay) => stay.jobId === id)!.placeId;
    try {
      await inShopTerms(() =>
        publish(
          deps.store,
          {
            shopId,
            plan: { ...plan, reason: 'walk-in' },
            expectedVersion: book.previousPlan?.version ?? 0,
            jobs: [...book.jobs, job],
            exceptions,
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
