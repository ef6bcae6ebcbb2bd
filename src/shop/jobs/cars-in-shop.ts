import type { JobId } from '../../trade/model/ids.ts';
import type { Job } from '../../trade/model/job.ts';

/** The jobs whose cars are here. */
export function carsInShop(jobs: readonly Job[]): ReadonlySet<JobId> {
  return new Set(jobs.filter(({ state }) => state === 'inShop').map(({ id }) => id));
}
