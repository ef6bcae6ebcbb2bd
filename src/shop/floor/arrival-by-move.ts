import { createHash } from 'node:crypto';
import type { Records } from '../../store/store.ts';
import type { ShopId } from '../../trade/model/ids.ts';
import type { FloorEvent } from '../../trade/model/job.ts';

/**
 * Whoever tells that a planned move is finished has told where the car stands: at the move's place in the plan. Returns
 * that as the fact it is, under an id made from the first, so that both are recorded once; null for any other fact.
 */
export async function arrivalByMove(
  records: Records,
  shopId: ShopId,
  told: Omit<FloorEvent, 'sequence'>,
): Promise<Omit<FloorEvent, 'sequence'> | null> {
  const { fact, jobId, clientId } = told;
  if (fact.kind !== 'finished') return null;
  const planned = await records.plans.job(shopId, jobId);
  const move = planned?.operations.find((each) => each.operation === fact.operation && each.kind === 'move');
  if (move === undefined || move.placeId === null) return null;
  const movedId = createHash('sha256').update(`${clientId} moved`).digest('hex').slice(0, 32);
  return { ...told, clientId: movedId, fact: { kind: 'moved', placeId: move.placeId } };
}
