import type { Records } from '../../store/store.ts';
import type { JobId, OperationKey, ShopId, TechnicianId } from '../../trade/model/ids.ts';
import type { ShopDeps } from '../deps.ts';
import { Busy, GateShut } from '../problems/problems.ts';
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

/** Times the gates are asked again because something happened on the floor meanwhile. */
const MOST_TRIES = 8;

/** Something happened on the floor since the gates were asked. */
class Overtaken extends Error {}

/**
 * Asks to start work now. Its gates must be open: hold points passed, wipe fresh, readings fresh and fitting,
 * certificate unexpired, the person free and the car in the right place. The same clientId again is the same start; of
 * two devices that start one work at once, the gates see the other's.
 * @throws GateShut with the figures, NotFound, Invalid (operation), Busy
 */
export async function startOperation(
  deps: Pick<ShopDeps, 'store' | 'clock' | 'replanner'>,
  input: StartOperation,
  alsoAnswer?: AlsoAnswer<Recorded>,
): Promise<Recorded> {
  const { shopId, jobId, operation, clientId } = input;
  for (let tries = 0; tries < MOST_TRIES; tries++) {
    const seen = await deps.store.outbox.lastSequence(shopId);
    const at = deps.clock();
    const earlier = (await deps.store.floorEvents.listByJob(shopId, jobId)).find((each) => each.clientId === clientId);
    if (earlier !== undefined) return { event: earlier, fresh: false, exceptions: [] };
    const objections = shutGates(await loadSituation(deps.store, { shopId, jobId, operation, by: input.by, at }));
    if (objections.length > 0) {
      throw new GateShut(objections.map((each) => each.text).join(' '), objections);
    }
    const fact = { kind: 'started' as const, operation, by: [...input.by] };
    const asked = { shopId, jobId, clientId, occurredAt: at, fact };
    try {
      return await recordFact(deps, asked, alsoAnswer, (records) => nothingSince(records, shopId, seen));
    } catch (refusal) {
      if (!(refusal instanceof Overtaken)) throw refusal;
    }
  }
  throw new Busy('Others keep telling what happens; try again.');
}

/** The gates look at facts: what else was told, as a plan, leaves them as they are. @throws Overtaken */
async function nothingSince(records: Records, shopId: ShopId, seen: number): Promise<void> {
  const news = await records.outbox.listAfter(shopId, seen);
  if (news.some(({ kind }) => kind !== 'plan.published')) throw new Overtaken();
}
