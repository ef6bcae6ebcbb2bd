import type { Instant } from '../../trade/model/time.ts';
import type { ShopDeps } from '../deps.ts';

/** A screen that was away for longer reads everything again. */
const NEWS_KEPT_DAYS = 14;
/** A year and some weeks, so that a year can be looked back on. */
const AUDIT_KEPT_DAYS = 400;
/** Versions of a shop's plan that are kept, to see how it came to be. */
const PLANS_KEPT = 200;

export interface Forgotten {
  /** Replies to requests with an idempotency key, which are kept seven days. */
  readonly replies: number;
  readonly news: number;
  readonly plans: number;
}

/** Forgets what nobody asks for any more: stored replies, old news, old plans, sessions that are over. Facts and jobs are never forgotten. */
export async function forgetOld(deps: Pick<ShopDeps, 'store' | 'clock'>): Promise<Forgotten> {
  const now = deps.clock();
  const newsBefore = Math.max(0, now - NEWS_KEPT_DAYS * 86_400_000) as Instant;
  let news = 0;
  let plans = 0;
  for (const { value } of await deps.store.shops.list()) {
    news += await deps.store.outbox.purge(value.id, newsBefore);
    plans += await deps.store.plans.prune(value.id, PLANS_KEPT);
    await deps.store.audit.purge(value.id, Math.max(0, now - AUDIT_KEPT_DAYS * 86_400_000) as Instant);
  }
  await deps.store.signIns.purge(now);
  return { replies: await deps.store.replies.purge(now), news, plans };
}
