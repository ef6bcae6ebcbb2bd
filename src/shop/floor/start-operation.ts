import type { JobId, OperationKey, ShopId, TechnicianId } from '../../trade/model/ids.ts';
import type { ShopDeps } from '../deps.ts';
import { GateShut } from '../problems/problems.ts';
import type { AlsoAnswer } from '../requests/answer-once.ts';
import { shutGates } from './gates/gates-of.ts';
import { loadSituation } from './load-situation.ts';
import { type Recorded, recordFact } from './record-fact.ts';

export interface StartOperation {
  readonly shopId: ShopId;
  readonly jobId: JobId;
  readonly operation: OperationKey;
  readonly by: readonly TechnicianId[];
  readonly clientId: string;
}

/**
 * Asks to start work now. Its gates must be open: hold points passed, wipe fresh, readings fresh and fitting,
 * certificate unexpired, the person free and the car in the right place. The same clientId again is the same start.
 * @throws GateShut with the figures, NotFound, Invalid (operation)
 */
export async function startOperation(
  deps: Pick<ShopDeps, 'store' | 'clock' | 'replanner'>,
  input: StartOperation,
  alsoAnswer?: AlsoAnswer<Recorded>,
): Promise<Recorded> {
  const { shopId, jobId, operation, clientId } = input;
  const at = deps.clock();
  const earlier = (await deps.store.floorEvents.listByJob(shopId, jobId)).find((each) => each.clientId === clientId);
  if (earlier !== undefined) return { event: earlier, fresh: false, exceptions: [] };
  const objections = shutGates(await loadSituation(deps.store, { shopId, jobId, operation, by: input.by, at }));
  if (objections.length > 0) {
    throw new GateShut(objections.map((each) => each.text).join(' '), objections);
  }
  const by = [...input.by];
  const fact = { kind: 'started' as const, operation, by };
  return recordFact(deps, { shopId, jobId, clientId, occurredAt: at, fact }, alsoAnswer);
}
