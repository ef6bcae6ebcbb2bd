import type { JobId, ShopId } from '../../trade/model/ids.ts';
import type { ShopDeps } from '../deps.ts';

/** Closes the holds whose time is up and frees their slots; returns whose they were. */
export async function lapseHolds(deps: ShopDeps, input: { shopId: ShopId }): Promise<readonly JobId[]> {
  throw new Error(`not written yet ${deps.seed} ${input.shopId}`);
}
