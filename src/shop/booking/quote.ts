import type { ShopId } from '../../trade/model/ids.ts';
import type { PlannedOperation, PlannedStay } from '../../trade/model/plan.ts';
import type { Instant } from '../../trade/model/time.ts';
import type { ShopDeps } from '../deps.ts';
import type { BookingRequest } from './booking-request.ts';

export interface QuoteChoice {
  /** `soonest`; `wantedDay`: nearest to the wanted drop-off; `laterDay`: a day or more after the soonest; `shortestStay`. */
  readonly why: 'soonest' | 'wantedDay' | 'laterDay' | 'shortestStay';
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
  /** What the desk should say or ask, none of it an obstacle. */
  readonly advice: readonly string[];
  /** The plan the choices were found in; they hold until it changes. */
  readonly planVersion: number;
}

/**
 * A few slots that hold the car without moving any promise. Nothing is kept: `hold` keeps one.
 * @throws Refused when the trade objects, NothingFits with why and the nearest.
 */
export async function quote(deps: ShopDeps, input: { shopId: ShopId; request: BookingRequest }): Promise<Quote> {
  throw new Error(`not written yet ${deps.seed} ${input.shopId}`);
}
