import type { JobId, OperationKey, ShopId, TechnicianId } from '../../trade/model/ids.ts';
import type { ShopDeps } from '../deps.ts';
import type { Objection } from '../problems/shop-problem.ts';

/** What stands against starting an operation now; empty when every gate is open. @throws NotFound */
export async function gatesOf(
  deps: ShopDeps,
  input: { shopId: ShopId; jobId: JobId; operation: OperationKey; by: readonly TechnicianId[] },
): Promise<readonly Objection[]> {
  throw new Error(`not written yet ${deps.seed} ${input.shopId}`);
}
