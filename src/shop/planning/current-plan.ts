import type { ShopId } from '../../trade/model/ids.ts';
import type { Plan } from '../../trade/model/plan.ts';
import type { ShopDeps } from '../deps.ts';

/** The published plan; version 0 with nothing in it before the first. @throws NotFound (shop) */
export async function currentPlan(deps: ShopDeps, input: { shopId: ShopId }): Promise<Plan> {
  throw new Error(`not written yet ${deps.seed} ${input.shopId}`);
}
