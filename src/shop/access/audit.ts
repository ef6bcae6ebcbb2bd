import type { AuditEntry, AuditFilter } from '../../store/store.ts';
import type { ShopId } from '../../trade/model/ids.ts';
import type { AccessDeps } from './deps.ts';

/** What was changed in a shop and by whom, the newest first, a page at a time. */
export async function listAudit(
  deps: AccessDeps,
  { shopId, ...filter }: AuditFilter & { shopId: ShopId },
): Promise<{ items: AuditEntry[]; nextCursor: string | null }> {
  const items = await deps.store.audit.list(shopId, filter);
  return { items, nextCursor: items.length < filter.limit ? null : (items.at(-1)?.id ?? null) };
}
