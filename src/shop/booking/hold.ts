import type { ShopId } from '../../trade/model/ids.ts';
import type { Instant } from '../../trade/model/time.ts';
import type { ShopDeps } from '../deps.ts';
import type { JobView } from '../jobs/job-view.ts';
import type { BookingRequest } from './booking-request.ts';

export interface Hold {
  readonly shopId: ShopId;
  readonly request: BookingRequest;
  /** From a quote's choice. */
  readonly dropOffAt: Instant;
  /** The pickup told to the customer; null: the one the plan gives. */
  readonly pickupAt: Instant | null;
  /** 1 to 60 minutes, or up to 2880 with a deposit note. */
  readonly holdMinutes: number;
  readonly depositNote: string;
}

/**
 * Keeps a slot for a while: the job is in the plan, state `held`, and leaves it by the clock unless confirmed.
 * @throws Refused, NothingFits, SlotGone (with the next that fits), Invalid (holdMinutes, dropOffAt)
 */
export async function hold(deps: ShopDeps, input: Hold): Promise<JobView> {
  throw new Error(`not written yet ${deps.seed} ${input.shopId}`);
}
