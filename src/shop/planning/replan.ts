import type { JobId, ShopId } from '../../trade/model/ids.ts';
import type { Plan } from '../../trade/model/plan.ts';
import type { ShopDeps } from '../deps.ts';

export interface Replanned {
  readonly plan: Plan;
  /** Promises the plan cannot keep; each waits for a person's acknowledgement. */
  readonly broken: readonly { readonly jobId: JobId; readonly lateMinutes: number }[];
  /** Freezes that had to be released so that a plan exists, in the order they were released. */
  readonly released: readonly string[];
  /** False when the plan that stood already was as good and nothing was published. */
  readonly published: boolean;
}

/**
 * Plans the whole book again and publishes it, after an independent check. Facts never make it fail: clashing
 * freezes are released in a stated order and the desk is told.
 * @throws NotFound (shop), Busy, PlanRejected (the plan that stood stays)
 */
export async function replan(
  deps: ShopDeps,
  input: { shopId: ShopId; reason: string; signal?: AbortSignal },
): Promise<Replanned> {
  throw new Error(`not written yet ${deps.seed} ${input.shopId}`);
}
