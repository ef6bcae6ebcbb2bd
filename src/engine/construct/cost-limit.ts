import { NEVER } from '../calendar/never.ts';
import type { Tier } from '../problem/problem.ts';
import type { JobModel } from './job-model.ts';

/** What a way to plan a job may cost; one that shows to cost more is given up at once. */
export interface CostLimit {
  /** Latest pickup, as the promise is judged. */
  readonly latestPickup: number;
  /** Most minutes from drop-off to ready. */
  readonly mostLead: number;
}

export const NO_LIMIT: CostLimit = { latestPickup: NEVER, mostLead: NEVER };

/**
 * The limit that follows from what the job may add to each tier, `allowed`, when it adds at least `least`: a later tier binds
 * only where nothing is left to save in the tiers before it. null when no plan can be that cheap.
 */
export function limitFrom(
  job: JobModel,
  tiers: readonly Tier[],
  allowed: ArrayLike<number>,
  least: ArrayLike<number>,
): CostLimit | null {
  let latestPickup = NEVER;
  let mostLead = NEVER;
  for (let k = 0; k < tiers.length; k++) {
    const most = allowed[k]!;
    if (most < least[k]!) return null;
    const tier = tiers[k]!;
    if (tier === 'broken') {
      if (most < job.promiseWeight) latestPickup = Math.min(latestPickup, job.promiseAt);
    } else if (tier === 'tardiness') latestPickup = Math.min(latestPickup, latestFor(job, most));
    else if (tier === 'lead') mostLead = most;
    if (most > least[k]!) break;
  }
  return { latestPickup, mostLead };
}

/** The latest pickup that costs at most `most` weighted minutes after promise and due. */
export function latestFor(job: JobModel, most: number): number {
  const { promiseAt, promiseWeight, dueAt, dueWeight } = job;
  const byPromise = promiseWeight > 0 && promiseAt < NEVER;
  const byDue = dueWeight > 0 && dueAt < NEVER;
  let latest = Number.POSITIVE_INFINITY;
  if (byPromise) latest = Math.min(latest, promiseAt + most / promiseWeight);
  if (byDue) latest = Math.min(latest, dueAt + most / dueWeight);
  if (byPromise && byDue) {
    const both = (most + promiseWeight * promiseAt + dueWeight * dueAt) / (promiseWeight + dueWeight);
    if (both >= Math.max(promiseAt, dueAt)) latest = Math.min(latest, both);
  }
  return Math.min(NEVER, Math.floor(latest));
}
