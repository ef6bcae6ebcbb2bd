import type { JobId, ShopId } from '../../trade/model/ids.ts';
import type { ShopDeps } from '../deps.ts';
import { loadBook } from '../planning/load-book.ts';
import { inShopTerms } from '../problems/store-refusals.ts';
import { foundJob } from '../records/found.ts';
import { tell } from '../records/tell.ts';
import { settledScope } from './settle-scope.ts';

/** Sets the default scope for every car whose answer is overdue; returns which. */
export async function defaultScopes(
  deps: Pick<ShopDeps, 'store' | 'clock' | 'replanner'>,
  input: { shopId: ShopId },
): Promise<readonly JobId[]> {
  const { shopId } = input;
  const now = deps.clock();
  const isOverdue = (scope: { answer: string; answerBy: number } | null) =>
    scope?.answer === 'awaited' && scope.answerBy <= now;
  const overdue = (await deps.store.jobs.listOpen(shopId)).filter((each) => isOverdue(each.value.scope));
  if (overdue.length === 0) return [];
  const book = await loadBook(deps.store, shopId, now);
  const defaulted: JobId[] = [];
  for (const { value } of overdue) {
    await inShopTerms(() =>
      deps.store.transaction(shopId, async (records) => {
        const { value: job, version } = await foundJob(records, shopId, value.id);
        // An answer may have come between; then it stands.
        if (!isOverdue(job.scope)) return;
        const settled = settledScope(job, 'defaulted', book);
        await records.jobs.put(shopId, settled, version);
        await tell(records, shopId, now, 'scope.answered', job.id, {
          answer: 'defaulted',
          priceMinor: settled.priceMinor,
        });
        defaulted.push(job.id);
      }),
    );
  }
  if (defaulted.length > 0) deps.replanner.ask(shopId, 'default scope');
  return defaulted;
}
