import type { ShopId } from '../../trade/model/ids.ts';
import type { Plan } from '../../trade/model/plan.ts';
import type { ShopDeps } from '../deps.ts';
import { foundShop } from '../records/found.ts';

/** The published plan; version 0 with nothing in it before the first. @throws NotFound (shop) */
export async function currentPlan(
  deps: Pick<ShopDeps, 'store' | 'clock' | 'seed'>,
  input: { shopId: ShopId },
): Promise<Plan> {
  await foundShop(deps.store, input.shopId);
  const plan = await deps.store.plans.current(input.shopId);
  return (
    plan ?? {
      version: 0,
      madeAt: deps.clock(),
      reason: 'nothing planned yet',
      objective: [],
      seed: deps.seed,
      interrupted: false,
      operations: [],
      stays: [],
      jobs: [],
    }
  );
}
