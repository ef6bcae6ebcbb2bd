import type { JobId } from './ids.ts';
import type { Plan, PlannedOperation, PlannedStay } from './plan.ts';
import type { PlanChange } from './plan-change.ts';

/** What a plan says beside what it says of itself. */
export type PlanWork = Pick<Plan, 'operations' | 'stays' | 'jobs'>;

export const NO_WORK: PlanWork = { operations: [], stays: [], jobs: [] };

const jobKey = ({ jobId }: { readonly jobId: JobId }) => jobId;
const workKey = (work: { readonly jobId: string; readonly operation: string }) => `${work.jobId} ${work.operation}`;

/** What leads from one plan's work to another's, and what leads back. */
export interface Way {
  readonly there: PlanChange;
  readonly back: PlanChange;
}

/** The least change from one plan's work to another's, and the one that undoes it. O(n log n) in the work of both. */
export function wayBetween(before: PlanWork, after: PlanWork): Way {
  const operations = differing(before.operations, after.operations, workKey);
  const jobs = differing(before.jobs, after.jobs, jobKey);
  const staysBefore = byJob(before.stays);
  const staysAfter = byJob(after.stays);
  const moved: JobId[] = [];
  for (const jobId of new Set([...staysBefore.keys(), ...staysAfter.keys()])) {
    if (!same(staysBefore.get(jobId), staysAfter.get(jobId))) moved.push(jobId);
  }
  return {
    there: {
      operations: operations.after,
      operationsGone: namesOf(operations.gone),
      stays: staysOf(moved, staysAfter),
      jobs: jobs.after,
      jobsGone: jobs.gone.map(jobKey),
    },
    back: {
      operations: operations.before,
      operationsGone: namesOf(operations.come),
      stays: staysOf(moved, staysBefore),
      jobs: jobs.before,
      jobsGone: jobs.come.map(jobKey),
    },
  };
}

function namesOf(operations: readonly PlannedOperation[]): PlanChange['operationsGone'] {
  return operations.map(({ jobId, operation }) => ({ jobId, operation }));
}

function staysOf(jobs: readonly JobId[], stays: ReadonlyMap<JobId, PlannedStay[]>): PlanChange['stays'] {
  return jobs.map((jobId) => ({ jobId, stays: stays.get(jobId) ?? [] }));
}

/** The work after a change, in the order of `inOrder`. What stays as it was is the very same object. */
export function afterChange(work: PlanWork, change: PlanChange): PlanWork {
  const replaced = [...change.operations, ...change.operationsGone];
  const touched = new Set(replaced.map(jobKey));
  const dropped = new Set(replaced.map(workKey));
  const operations: PlannedOperation[] = [];
  for (const each of work.operations) {
    if (!touched.has(each.jobId) || !dropped.has(workKey(each))) operations.push(each);
  }
  operations.push(...change.operations);
  const stays = withoutJobs(work.stays, new Set(change.stays.map(jobKey)));
  for (const moved of change.stays) stays.push(...moved.stays);
  const jobs = withoutJobs(work.jobs, new Set([...change.jobs.map(jobKey), ...change.jobsGone]));
  jobs.push(...change.jobs);
  return inOrder({ operations, stays, jobs });
}

function withoutJobs<T extends { readonly jobId: JobId }>(all: readonly T[], jobs: ReadonlySet<JobId>): T[] {
  const others: T[] = [];
  for (const each of all) if (!jobs.has(each.jobId)) others.push(each);
  return others;
}

/** The order plans are kept in: operations and stays by time, jobs by id. Stays of one job keep theirs when times are equal. */
export function inOrder(work: PlanWork): PlanWork {
  return {
    operations: [...work.operations].sort(compareOperations),
    stays: [...work.stays].sort(compareStays),
    jobs: [...work.jobs].sort(compareJobs),
  };
}

function compareOperations(a: PlannedOperation, b: PlannedOperation): number {
  return a.start - b.start || a.end - b.end || compareJobs(a, b) || compare(a.operation, b.operation);
}

function compareStays(a: PlannedStay, b: PlannedStay): number {
  return a.from - b.from || a.to - b.to || compareJobs(a, b);
}

function compareJobs(a: { readonly jobId: JobId }, b: { readonly jobId: JobId }): number {
  return compare(a.jobId, b.jobId);
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
  const others: T[] = [];
  for (const each of after) if (!left.delete(each)) others.push(each);
  const known = new Map<string, T>();
  for (const each of left) known.set(keyOf(each), each);
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
  for (const stay of [...stays].sort(compareStays)) {
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
  if (Array.isArray(a)) return Array.isArray(b) && sameParts(a, b);
  const one = a as Record<string, unknown>;
  const other = b as Record<string, unknown>;
  const keys = Object.keys(one);
  if (keys.length !== Object.keys(other).length) return false;
  for (const key of keys) if (!same(one[key], other[key])) return false;
  return true;
}

function sameParts(a: readonly unknown[], b: readonly unknown[]): boolean {
  if (a.length !== b.length) return false;
  for (let at = 0; at < a.length; at++) if (!same(a[at], b[at])) return false;
  return true;
}
