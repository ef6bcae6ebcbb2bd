import { NEVER } from '../calendar/never.ts';
import type { JobModel } from './job-model.ts';

/** When it is a fact that the car came to stage `k`; -1 when that is still to be planned. */
export function arrivalFact(job: JobModel, k: number): number {
  const stage = job.stages[k]!;
  if (stage.fixedFrom >= 0) return stage.fixedFrom;
  const sets = k === 0 ? job.arrival : stage.move;
  const operation = sets < 0 ? null : job.operations[sets]!;
  return operation?.fact ? (k === 0 ? operation.fixedStart : operation.fixedEnd) : -1;
}

/** When it is a fact that the car left stage `k` for a later one; NEVER when it has not. */
export function departureFact(job: JobModel, k: number): number {
  for (let later = k + 1; later < job.stages.length; later++) {
    const arrived = arrivalFact(job, later);
    if (arrived >= 0) return arrived;
  }
  const handover = job.handover < 0 ? null : job.operations[job.handover]!;
  return handover?.fact ? handover.fixedEnd : NEVER;
}
