import { arrivalFact } from '../construct/job-facts.ts';
import type { JobModel } from '../construct/job-model.ts';
import type { AloneTimes } from './alone.ts';

/** What no plan of a job can beat, whatever the other jobs do. */
export interface JobBound {
  /** Earliest pickup, as the promise is judged: handover's start, or else ready's end. */
  readonly pickup: number;
  readonly lastEnd: number;
  /** Fewest minutes from drop-off to ready. */
  readonly lead: number;
  /** The operation, in the job's own order, that can no longer be done before its deadline or the horizon; -1 when all can. */
  readonly impossible: number;
}

/** Relaxes a job to what it could do alone in the shop. Lead is the longest path in minutes of pure work, whatever the hours. */
export function boundJob(job: JobModel, alone: AloneTimes, now: number, horizon: number): JobBound {
  alone.read(job, Math.max(job.release, job.inShop ? 0 : now));
  const { start, end } = alone;
  let impossible = -1;
  for (let i = 0; i < job.operations.length; i++) {
    const operation = job.operations[i]!;
    if (operation.optional || operation.fixing === 'pinned' || end[i]! <= Math.min(operation.deadline, horizon))
      continue;
    if (impossible < 0) impossible = i;
  }
  const pickup = job.handover >= 0 ? start[job.handover]! : job.ready >= 0 ? end[job.ready]! : 0;
  const arrived = arrivalFact(job, 0);
  let lead = 0;
  if (job.ready >= 0) lead = arrived >= 0 ? end[job.ready]! - arrived : job.fixed ? 0 : longestPath(job);
  return { pickup, lastEnd: alone.lastEnd, lead: Math.max(0, lead), impossible };
}

/** Minutes of pure work, minimum lags and moves it cannot do without, from drop-off to ready. */
function longestPath(job: JobModel): number {
  const size = job.operations.length;
  const start = new Float64Array(size).fill(-1);
  const end = new Float64Array(size);
  let stage = 0;
  let stageFrom = 0;
  let stageEnd = 0;
  for (let i = 0; i < size; i++) {
    const operation = job.operations[i]!;
    if (operation.stage !== stage) {
      stage = operation.stage;
      stageFrom = stageEnd + leastMove(job, stage);
    }
    if (operation.optional) continue;
    let from = operation.inStay ? stageFrom : 0;
    let until = 0;
    for (const lag of operation.lags) {
      if (lag.to !== i || start[lag.from]! < 0) continue;
      const bound = (lag.fromEnd ? end[lag.from]! : start[lag.from]!) + lag.min;
      if (lag.toEnd) until = Math.max(until, bound);
      else from = Math.max(from, bound);
    }
    start[i] = from;
    end[i] = Math.max(until, from + operation.leastMinutes);
    if (operation.inStay) stageEnd = Math.max(stageEnd, end[i]!);
  }
  return end[job.ready]!;
}

/** Fewest minutes of the moves one of which the car must make into a stage; 0 when it may stay on. */
function leastMove(job: JobModel, stage: number): number {
  const { comesBy } = job.stages[stage]!;
  let least = comesBy.length === 0 ? 0 : Number.POSITIVE_INFINITY;
  for (const move of comesBy) least = Math.min(least, job.operations[move]!.leastMinutes);
  return least;
}
