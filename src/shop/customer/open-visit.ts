import type { JobId, ShopId } from '../../trade/model/ids.ts';
import type { CustomerDeps } from './deps.ts';
import { hashOfToken, TOKEN_FORM } from './link-tokens.ts';
import { type Visit, visitOf } from './visit.ts';

/** A page closes so long after its car has left: what it says has no use any more, and the person is owed the quiet. */
const OPEN_AFTER_DAYS = 90;
const DAY_MS = 24 * 60 * 60_000;

/** Whose visit a token opens, and what is to be seen; null when it opens none (any more). */
export async function openVisit(
  deps: Pick<CustomerDeps, 'store' | 'clock'>,
  token: string,
): Promise<{ readonly shopId: ShopId; readonly jobId: JobId; readonly visit: Visit } | null> {
  if (!TOKEN_FORM.test(token)) return null;
  const found = await deps.store.customerLinks.find(hashOfToken(token));
  if (found === null) return null;
  const now = deps.clock();
  const visit = await visitOf(deps.store, found, now);
  if (visit.leftAt !== null && now - visit.leftAt > OPEN_AFTER_DAYS * DAY_MS) return null;
  return { ...found, visit };
}
