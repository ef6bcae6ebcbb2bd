import { z } from 'zod';
import { JobId, OperationKey } from './ids.ts';
import { type Plan, PlannedJob, PlannedOperation, PlannedStay } from './plan.ts';

/** What a plan says beside what it says of itself. */
export type PlanWork = Pick<Plan, 'operations' | 'stays' | 'jobs'>;

export const NO_WORK: PlanWork = { operations: [], stays: [], jobs: [] };

/** What makes one plan's work into another's; whole pieces, so that it can be written down and read back. */
export const PlanChange = z.object({
  /** New work, and work that is planned differently. */
  operations: z.array(PlannedOperation),
  operationsGone: z.array(z.object({ jobId: JobId, operation: OperationKey })),
  /** All stays of each job that has other ones, in their order; a job that has none any more has an empty list. */
  stays: z.array(z.object({ jobId: JobId, stays: z.array(PlannedStay) })),
  jobs: z.array(PlannedJob),
  jobsGone: z.array(JobId),
});
export type PlanChange = z.infer<typeof PlanChange>;

const workKey = (work: { readonly jobId: string; readonly operation: string }) => `${work.jobId} ${work.operation}`;

/** What leads from one plan's work to another's, and what leads back. */
export interface Way {
  readonly there: PlanChange;
  readonly back: PlanChange;
}

/** The least change from one plan's work to another's, and the one that undoes it. O(n log n) in the work of both. */
export function wayBetween(before: PlanWork, after: PlanWork): Way {
  const operations = differing(before.operations, after.operations, workKey);
  const jobs = differing(before.jobs, after.jobs, (job) => job.jobId);
  const staysBefore = byJob(before.stays);
  const staysAfter = byJob(after.stays);
  const moved = [...new Set([...staysBefore.keys(), ...staysAfter.keys()])].filter(
    (jobId) => !same(staysBefore.get(jobId), staysAfter.get(jobId)),
  );
  const change = (put: 'before' | 'after', gone: 'gone' | 'come', stays: ReadonlyMap<JobId, PlannedStay[]>) => ({
    operations: operations[put],
    operationsGone: operations[gone].map(({ jobId, operation }) => ({ jobId, operation })),
    stays: moved.map((jobId) => ({ jobId, stays: stays.get(jobId) ?? [] })),
    jobs: jobs[put],
    jobsGone: jobs[gone].map(({ jobId }) => jobId),
  });
  return { there: change('after', 'gone', staysAfter), back: change('before', 'come', staysBefore) };
}

/** The work after a change, in the order of `inOrder`. What stays as it was is the very same object. */
export function afterChange(work: PlanWork, change: PlanChange): PlanWork {
  const replaced = [...change.operations, ...change.operationsGone];
  const touched = new Set(replaced.map(({ jobId }) => jobId));
  const dropped = new Set(replaced.map(workKey));
  const moved = new Set(change.stays.map(({ jobId }) => jobId));
  const jobs = new Set([...change.jobs.map(({ jobId }) => jobId), ...change.jobsGone]);
  return inOrder({
    operations: [
      ...work.operations.filter((each) => !touched.has(each.jobId) || !dropped.has(workKey(each))),
      ...change.operations,
    ],
    stays: [...work.stays.filter(({ jobId }) => !moved.has(jobId)), ...change.stays.flatMap(({ stays }) => stays)],
    jobs: [...work.jobs.filter(({ jobId }) => !jobs.has(jobId)), ...change.jobs],
  });
}

/** The order plans are kept in: operations and stays by time, jobs by id. Stays of one job keep theirs when times are equal. */
export function inOrder(work: PlanWork): PlanWork {
  return {
    operations: [...work.operations].sort(
      (a, b) => a.start - b.start || a.end - b.end || compare(a.jobId, b.jobId) || compare(a.operation, b.operation),
    ),
    stays: inOrderOfStays(work.stays),
    jobs: [...work.jobs].sort((a, b) => compare(a.jobId, b.jobId)),
  };
}

function inOrderOfStays(stays: readonly PlannedStay[]): PlannedStay[] {
  return [...stays].sort((a, b) => a.from - b.from || a.to - b.to || compare(a.jobId, b.jobId));
}

/** By code units, the same on every machine. */
function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

interface Differing<T> {
  /** What the later one has and the earlier one has not, or has otherwise. */
  readonly after: T[];
  /** What the earlier one has and the later one has not, or has otherwise. */
  readonly before: T[];
  /** Of `before`, what the later one has no more at all. */
  readonly gone: T[];
  /** Of `after`, what the earlier one has not at all. */
  readonly come: T[];
}

function differing<T>(before: readonly T[], after: readonly T[], keyOf: (each: T) => string): Differing<T> {
  // Most of a plan stays the very same objects, and needs no looking into.
  const left = new Set(before);
  const others = after.filter((each) => !left.delete(each));
  const known = new Map([...left].map((each) => [keyOf(each), each]));
  const found: Differing<T> = { after: [], before: [], gone: [], come: [] };
  for (const each of others) {
    const key = keyOf(each);
    const old = known.get(key);
    known.delete(key);
    if (same(old, each)) continue;
    found.after.push(each);
    if (old === undefined) found.come.push(each);
    else found.before.push(old);
  }
  found.gone.push(...known.values());
  found.before.push(...found.gone);
  return found;
}

function byJob(stays: readonly PlannedStay[]): Map<JobId, PlannedStay[]> {
  const all = new Map<JobId, PlannedStay[]>();
  for (const stay of inOrderOfStays(stays)) {
    const known = all.get(stay.jobId);
    if (known === undefined) all.set(stay.jobId, [stay]);
    else known.push(stay);
  }
  return all;
}

/** Whether two values of plain data are equal, part by part. */
function same(a: unknown, b: unknown): boolean {
  if (a === b) return true;
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return false;
  if (Array.isArray(a)) {
    return Array.isArray(b) && a.length === b.length && a.every((part, at) => same(part, b[at]));
  }
  const one = a as Record<string, unknown>;
  const other = b as Record<string, unknown>;
  const keys = Object.keys(one);
  return keys.length === Object.keys(other).length && keys.every((key) => same(one[key], other[key]));
}
