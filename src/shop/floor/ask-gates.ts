import type { JobId, OperationKey, ShopId, TechnicianId } from '../../trade/model/ids.ts';
import type { ShopDeps } from '../deps.ts';
import type { Objection } from '../problems/shop-problem.ts';
import { shutGates } from './gates/gates-of.ts';
import { loadSituation } from './load-situation.ts';

/** What stands against starting an operation now; empty when every gate is open. @throws NotFound, Invalid (operation) */
export async function gatesOf(
  deps: Pick<ShopDeps, 'store' | 'clock'>,
  input: { shopId: ShopId; jobId: JobId; operation: OperationKey; by: readonly TechnicianId[] },
): Promise<readonly Objection[]> {
  return shutGates(await loadSituation(deps.store, { ...input, at: deps.clock() }));
}
