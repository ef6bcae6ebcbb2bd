import type { JobId, ShopId } from '../../trade/model/ids.ts';
import type { Instant } from '../../trade/model/time.ts';
import type { ShopDeps } from '../deps.ts';

export interface PromiseOutlook {
  readonly jobId: JobId;
  readonly car: string;
  readonly customer: string;
  readonly promisedPickupAt: Instant;
  readonly plannedReadyAt: Instant;
  /** Minutes from planned ready time to the promise; negative when late. */
  readonly slackMinutes: number;
  /** Probability that the car is ready by the promise, in percent, as of now. */
  readonly probabilityPercent: number;
  /** Below the shop's confidence, or late. */
  readonly atRisk: boolean;
}

/** Every promise still to be kept, most endangered first. @throws NotFound (shop) */
export async function promiseOutlook(deps: ShopDeps, input: { shopId: ShopId }): Promise<readonly PromiseOutlook[]> {
  throw new Error(`not written yet ${deps.seed} ${input.shopId}`);
}

/** Warns once about each promise that has come to be at risk; returns the new warnings. */
export async function warnOfRisks(deps: ShopDeps, input: { shopId: ShopId }): Promise<readonly PromiseOutlook[]> {
  throw new Error(`not written yet ${deps.seed} ${input.shopId}`);
}
