import type { JobId } from '../model/ids.ts';
import type { Formulation } from './formulation.ts';

/**
 * Jobs whose drop-off hour is frozen, in the order in which freezes are given up when they clash: the least priority
 * first; of equals the later hour first, for there is more time left to tell the customer.
 */
export function dropOffsInReleaseOrder({ jobs, problem }: Formulation): JobId[] {
  return jobs
    .flatMap(({ job, frozenDropOff }) => {
      const start = frozenDropOff === undefined ? undefined : problem.operations[frozenDropOff]!.fixed?.start;
      return start === undefined ? [] : [{ job, start }];
    })
    .sort((a, b) => a.job.priority - b.job.priority || b.start - a.start || (a.job.id < b.job.id ? -1 : 1))
    .map(({ job }) => job.id);
}
