import { NEVER } from '../calendar/never.ts';
import type { EarliestFit } from '../construct/earliest-fit.ts';
import { arrivalFact } from '../construct/job-facts.ts';
import type { JobModel } from '../construct/job-model.ts';

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

/**
 * Relaxes a job to its own minimum lags and the order of its stays, in an otherwise empty shop: each always-present
 * operation takes the mode that suits it best. Lead is the longest path in minutes of pure work.
 */
export function boundJob(job: JobModel, fit: EarliestFit, now: number, horizon: number): JobBound {
  const n = job.operations.length;
  const start = new Float64Array(n).fill(-1);
  const end = new Float64Array(n).fill(-1);
  const pathStart = new Float64Array(n).fill(-1);
  const pathEnd = new Float64Array(n);
  let stageFrom = Math.max(job.release, job.inShop ? 0 : now);
  let stageEnd = stageFrom;
  let pathFrom = 0;
  let pathStageEnd = 0;
  let stage = 0;
  let impossible = -1;
  for (let i = 0; i < n; i++) {
    const operation = job.operations[i]!;
    if (operation.stage !== stage) {
      stage = operation.stage;
      stageFrom = stageEnd;
      pathFrom = pathStageEnd;
    }
    if (operation.optional) continue;
    const fixed = operation.fixing === 'pinned';
    let earliest = Math.max(
      now,
      operation.release,
      operation.fixedStart,
      operation.inStay ? stageFrom : job.stages[0]!.stay < 0 ? job.release : 0,
    );
    let path = operation.inStay ? pathFrom : 0;
    let earliestEnd = 0;
    let pathLeastEnd = 0;
    for (const lag of operation.lags) {
      if (lag.to !== i || start[lag.from]! < 0) continue;
      const from = (lag.fromEnd ? end[lag.from]! : start[lag.from]!) + lag.min;
      const pathed = (lag.fromEnd ? pathEnd[lag.from]! : pathStart[lag.from]!) + lag.min;
      if (lag.toEnd) {
        earliestEnd = Math.max(earliestEnd, from);
        pathLeastEnd = Math.max(pathLeastEnd, pathed);
      } else {
        earliest = Math.max(earliest, from);
        path = Math.max(path, pathed);
      }
    }
    if (fixed) {
      start[i] = operation.fixedStart;
      end[i] = operation.fixedEnd;
    } else {
      fit.soonest(operation, earliest);
      start[i] = Math.min(NEVER, fit.start);
      end[i] = Math.min(NEVER, Math.max(fit.end, earliestEnd));
      if (end[i]! > Math.min(operation.deadline, horizon) && impossible < 0) impossible = i;
    }
    pathStart[i] = path;
    pathEnd[i] = Math.max(
      pathLeastEnd,
      path + (fixed ? operation.fixedEnd - operation.fixedStart : operation.leastMinutes),
    );
    if (operation.inStay) {
      stageEnd = Math.max(stageEnd, end[i]!);
      pathStageEnd = Math.max(pathStageEnd, pathEnd[i]!);
    }
  }
  const pickup = job.handover >= 0 ? start[job.handover]! : job.ready >= 0 ? end[job.ready]! : 0;
  const arrived = arrivalFact(job, 0);
  let lead = 0;
  if (job.ready >= 0) lead = arrived >= 0 ? end[job.ready]! - arrived : job.fixed ? 0 : pathEnd[job.ready]!;
  return { pickup, lastEnd: end.reduce((last, each) => Math.max(last, each), 0), lead: Math.max(0, lead), impossible };
}
