import type { JobId, ShopId } from '../../trade/model/ids.ts';
import type { PlanningDeps } from '../deps.ts';
import { isLive } from '../planning/load-book.ts';
import { withdrawJobs } from '../planning/withdraw-jobs.ts';
import { Stale } from '../problems/problems.ts';

/** Closes the holds whose time is up and frees their slots; returns whose they were. */
export async function lapseHolds(
  deps: Pick<PlanningDeps, 'store' | 'clock'>,
  input: { shopId: ShopId },
): Promise<readonly JobId[]> {
  const { shopId } = input;
  const now = deps.clock();
  const lapsed: JobId[] = [];
  for (const { value, version } of await deps.store.jobs.listOpen(shopId)) {
    if (isLive(value, now)) continue;
    try {
      const job = { ...value, state: 'lapsed' as const };
      await withdrawJobs(deps, { shopId, reason: 'a hold ran out', closed: [{ job, expectedVersion: version }] });
      lapsed.push(value.id);
    } catch (problem) {
      // Somebody confirmed or changed it in this moment; what they did stands.
      if (!(problem instanceof Stale)) throw problem;
    }
  }
  return lapsed;
}
