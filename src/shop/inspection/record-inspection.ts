import type { Inspection } from '../../trade/model/condition.ts';
import type { JobId, ShopId } from '../../trade/model/ids.ts';
import type { Job } from '../../trade/model/job.ts';
import type { Instant } from '../../trade/model/time.ts';
import type { ShopDeps } from '../deps.ts';
import type { Objection } from '../problems/shop-problem.ts';

/** What the inspection on clean paint changes, before the customer has answered. */
export interface RevisedScope {
  readonly job: Job;
  readonly correctionPasses: number;
  readonly priceMinor: number;
  readonly priceBeforeMinor: number;
  /** Planned ready time and pickup with the revised scope; null when it does not fit the book. */
  readonly readyAt: Instant | null;
  readonly pickupAt: Instant | null;
  readonly promiseKept: boolean;
  readonly answerBy: Instant;
  /** Panels on which no cut is planned, with the film figures. */
  readonly refusedPanels: readonly Objection[];
}

/**
 * Records defects and film readings taken on clean paint, revises scope, price and time, and asks the customer.
 * @throws NotFound, Stale, WrongState, Refused
 */
export async function recordInspection(
  deps: ShopDeps,
  input: { shopId: ShopId; jobId: JobId; expectedVersion: number; inspection: Inspection },
): Promise<RevisedScope> {
  throw new Error(`not written yet ${deps.seed} ${input.shopId}`);
}
