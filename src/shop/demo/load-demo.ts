import type { ShopId } from '../../trade/model/ids.ts';
import type { ShopDeps } from '../deps.ts';

/** Loads the invented demo shop into an empty database; into any other, and the second time, it does nothing. */
export async function loadDemo(deps: ShopDeps): Promise<{ shopId: ShopId; loaded: boolean; jobs: number }> {
  throw new Error(`not written yet ${deps.seed}`);
}
