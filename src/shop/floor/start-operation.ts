import type { JobId, OperationKey, ShopId, TechnicianId } from '../../trade/model/ids.ts';
import type { ShopDeps } from '../deps.ts';
import type { Recorded } from './record-fact.ts';

export interface StartOperation {
  readonly shopId: ShopId;
  readonly jobId: JobId;
  readonly operation: OperationKey;
  readonly by: readonly TechnicianId[];
  readonly clientId: string;
}

/**
 * Asks to start work now. Its gates must be open: hold points passed, wipe fresh, readings fresh and fitting,
 * certificate unexpired, the person free and the car in the right place.
 * @throws GateShut with the figures, NotFound, WrongState
 */
export async function startOperation(deps: ShopDeps, input: StartOperation): Promise<Recorded> {
  throw new Error(`not written yet ${deps.seed} ${input.shopId}`);
}
