import type { DeskException } from '../../trade/model/desk-exception.ts';
import { DeskExceptionId, type ShopId } from '../../trade/model/ids.ts';
import type { ShopDeps } from '../deps.ts';
import { Invalid, NotFound } from '../problems/problems.ts';
import { foundShop } from '../records/found.ts';
import { tell } from '../records/tell.ts';

/** Open exceptions (broken promises, released freezes, facts against a rule), newest first. @throws NotFound (shop) */
export async function listExceptions(
  deps: Pick<ShopDeps, 'store'>,
  input: { shopId: ShopId; includeAcknowledged?: boolean },
): Promise<readonly DeskException[]> {
  await foundShop(deps.store, input.shopId);
  const all = (await deps.store.deskExceptions.list(input.shopId)).map((each) => each.value);
  const shown = input.includeAcknowledged ? all : all.filter((each) => each.acknowledgedAt === null);
  return shown.sort((a, b) => b.raisedAt - a.raisedAt || (a.id < b.id ? -1 : 1));
}

/** A person has seen it. Doing so twice is no error, and keeps the first. @throws NotFound, Invalid (by) */
export async function acknowledge(
  deps: Pick<ShopDeps, 'store' | 'clock'>,
  input: { shopId: ShopId; exceptionId: string; by: string },
): Promise<DeskException> {
  const by = input.by.trim();
  if (by === '') throw new Invalid('Say who acknowledges it.', 'by');
  if (by.length > 120) throw new Invalid('A name has at most 120 characters.', 'by');
  const id = DeskExceptionId.safeParse(input.exceptionId);
  if (!id.success) throw new NotFound('exception', input.exceptionId, 'exceptionId');
  return deps.store.transaction(input.shopId, async (records) => {
    const found = await records.deskExceptions.get(input.shopId, id.data);
    if (found === null) throw new NotFound('exception', input.exceptionId, 'exceptionId');
    if (found.value.acknowledgedAt !== null) return found.value;
    const acknowledged = { ...found.value, acknowledgedAt: deps.clock(), acknowledgedBy: by };
    await records.deskExceptions.put(input.shopId, acknowledged, found.version);
    await tell(records, input.shopId, acknowledged.acknowledgedAt, 'exception.acknowledged', id.data, { by });
    return acknowledged;
  });
}
