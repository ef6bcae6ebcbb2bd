import type { Lag, Problem } from '../../engine/problem/problem.ts';
import type { Schedule } from '../../engine/problem/solution.ts';
import type { Plan, PlannedJob, PlannedOperation, PlannedStay } from '../model/plan.ts';
import type { Formulation } from './formulation.ts';
import { readOperation, windowsInto } from './read-operation.ts';

/** What a plan says of itself beside the work. */
export type PlanMeta = Omit<Plan, 'operations' | 'stays' | 'jobs'>;

/**
 * Reads a schedule back as a plan of the trade. Past work and past places are in it as they were recorded. Operations
 * come in the order of their start.
 */
export function readPlan(formulation: Formulation, schedule: Schedule, meta: PlanMeta): Plan {
  const windows = windowsInto(formulation.problem.lags);
  const operations: PlannedOperation[] = [];
  for (let index = 0; index < schedule.operations.length; index++) {
    if (schedule.operations[index] !== null) operations.push(readOperation(formulation, schedule, index, windows));
  }
  const stays: PlannedStay[] = [];
  const jobs: PlannedJob[] = [];
  for (let index = 0; index < formulation.jobs.length; index++) {
    stays.push(...readStays(formulation, schedule, index));
    jobs.push(readJob(formulation, schedule, index));
  }
  return { ...meta, operations: operations.sort(earlierFirst), stays, jobs };
}

/** What a schedule says of one job: as `readPlan`, at the cost of the one and of those after it, as jobs are written in turn. */
export function readJobPlan(
  formulation: Formulation,
  schedule: Schedule,
  job: number,
): { readonly job: PlannedJob; readonly operations: PlannedOperation[]; readonly stays: PlannedStay[] } {
  const { problem } = formulation;
  const windows = windowsInto(lagsOf(problem, job));
  const operations: PlannedOperation[] = [];
  for (let index = problem.operations.length - 1; index >= 0 && problem.operations[index]!.job >= job; index--) {
    if (problem.operations[index]!.job !== job || schedule.operations[index] == null) continue;
    operations.push(readOperation(formulation, schedule, index, windows));
  }
  operations.reverse();
  operations.sort(earlierFirst);
  return { job: readJob(formulation, schedule, job), operations, stays: readStays(formulation, schedule, job) };
}

function lagsOf({ lags, operations }: Problem, job: number): Lag[] {
  const own: Lag[] = [];
  for (let k = lags.length - 1; k >= 0; k--) {
    const of = operations[lags[k]!.to.operation]!.job;
    if (of < job) break;
    if (of === job) own.push(lags[k]!);
  }
  return own.reverse();
}

function earlierFirst(a: PlannedOperation, b: PlannedOperation): number {
  return a.start - b.start || a.end - b.end;
}

function readStays({ problem, axis, jobs, places }: Formulation, schedule: Schedule, index: number): PlannedStay[] {
  const { job, visits } = jobs[index]!;
  const stays: PlannedStay[] = [];
  for (let k = 0; k < visits.length - 1; k++) {
    const { placeId, from } = visits[k]!;
    addStay(stays, { jobId: job.id, placeId, from, to: visits[k + 1]!.from });
  }
  for (const stay of problem.jobs[index]!.stays) {
    const planned = schedule.stays[stay];
    if (planned == null) continue;
    const actual = problem.stays[stay]!.fixed?.from === undefined ? undefined : visits.at(-1)?.from;
    const from = actual ?? axis.toInstant(planned.from);
    addStay(stays, { jobId: job.id, placeId: places[planned.place]!, from, to: axis.toInstant(planned.to) });
  }
  return stays;
}

/** A stay that goes on where the last one ended is one with it. */
function addStay(stays: PlannedStay[], next: PlannedStay): void {
  const last = stays.at(-1);
  if (last === undefined || last.placeId !== next.placeId || last.to !== next.from) stays.push(next);
  else stays[stays.length - 1] = { ...last, to: next.to };
}

function readJob({ problem, axis, jobs }: Formulation, schedule: Schedule, index: number): PlannedJob {
  const { job, visits, ready, handover } = jobs[index]!;
  const { stays, release, promise } = problem.jobs[index]!;
  const { first = release, last = problem.now } = timeThere(stays, schedule);
  const readyAt = (ready === undefined ? undefined : schedule.operations[ready]?.end) ?? last;
  const pickup = (handover === undefined ? undefined : schedule.operations[handover]?.start) ?? last;
  return {
    jobId: job.id,
    dropOffAt: visits[0]?.from ?? axis.toInstant(first),
    readyAt: axis.toInstant(readyAt),
    pickupAt: axis.toInstant(pickup),
    lateMinutes: promise === undefined ? 0 : Math.max(0, pickup - promise.at),
  };
}

/** From when until when the car is there; nothing when it is in no place at all. */
function timeThere(stays: readonly number[], schedule: Schedule): { readonly first?: number; readonly last?: number } {
  let there: { first: number; last: number } | undefined;
  for (const stay of stays) {
    const planned = schedule.stays[stay];
    if (planned != null) there = { first: there?.first ?? planned.from, last: planned.to };
  }
  return there ?? {};
}
