import type { JobId } from '../model/ids.ts';
import type { Formulation } from './formulation.ts';

/**
 * Jobs whose drop-off hour is frozen, in the order in which freezes are given up when they clash: the least priority
 * first; of equals the later hour first, for there is more time left to tell the customer. Before all of them whoever is awaited
 * though their hour has passed.
 */
export function dropOffsInReleaseOrder({ jobs, problem, now }: Formulation): JobId[] {
  const awaited = jobs.flatMap(({ job }, index) => {
    const isAwaited = job.dropOffAt !== null && job.dropOffAt < now && problem.jobs[index]!.arrival !== undefined;
    return isAwaited ? [job.id] : [];
  });
  const frozen = jobs
    .flatMap(({ job, frozenDropOff }) => {
      const start = frozenDropOff === undefined ? undefined : problem.operations[frozenDropOff]!.fixed?.start;
      return start === undefined ? [] : [{ job, start }];
    })
    .sort((a, b) => a.job.priority - b.job.priority || b.start - a.start || (a.job.id < b.job.id ? -1 : 1))
    .map(({ job }) => job.id);
  return [...awaited.filter((id) => !frozen.includes(id)), ...frozen];
}
