import type { ShopId } from '../../trade/model/ids.ts';
import type { PlanningDeps } from '../deps.ts';
import { endangers } from '../promises/endangers.ts';
import { isBetter } from './better.ts';
import { planAndPublish, type Replanned } from './replan.ts';

/**
 * Looks longer for a better plan; what is no better than the one that stands, or puts a promise at risk, is not published.
 * @throws NotFound (shop), Busy, PlanRejected
 */
export function improvePlan(
  deps: PlanningDeps,
  input: { readonly shopId: ShopId; readonly signal?: AbortSignal },
): Promise<Replanned> {
  return planAndPublish(
    deps,
    { ...input, reason: 'a better plan', nobodyWaits: true },
    deps.budget.thoroughWork,
    async (draft, standing, book) =>
      standing === null ||
      (isBetter(draft.plan.objective, standing.objective) && !(await endangers(deps, book, draft.plan))),
  );
}
