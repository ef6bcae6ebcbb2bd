import type { JobId, ShopId } from '../../trade/model/ids.ts';
import type { ShopDeps } from '../deps.ts';

/** Sets the default scope for every car whose answer is overdue; returns which. */
export async function defaultScopes(deps: ShopDeps, input: { shopId: ShopId }): Promise<readonly JobId[]> {
  throw new Error(`not written yet ${deps.seed} ${input.shopId}`);
}
