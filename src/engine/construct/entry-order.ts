import type { JobModel } from './job-model.ts';

const DAY_MINUTES = 24 * 60;

/** Ranks jobs for entry into an empty book: less comes first. */
export type EntryOrder = (job: JobModel) => number;

/** By the pickup promised or wanted, those without last: earliest due date (Jackson 1955). */
export const earliestPromise: EntryOrder = wanted;

/**
 * By the latest drop-off that could keep the promise if the stay took `times` as long as its work; nobody waits longer than
 * `days` after the release.
 */
export function leastSlack(times: number, days: number): EntryOrder {
  return (job) => Math.min(wanted(job) - times * job.leastMinutes, job.release + days * DAY_MINUTES);
}

function wanted(job: JobModel): number {
  return Math.min(job.promiseAt, job.dueAt);
}
