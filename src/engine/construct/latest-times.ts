import { NEVER } from '../calendar/never.ts';
import type { WorkCalendar } from '../calendar/work-calendar.ts';
import type { JobModel, ModeModel, OperationModel } from './job-model.ts';

/**
 * By operation of one job, the latest start and end with which one edge of its operation `target` can still come by a deadline: along
 * minimum lags and the order of the stays of work that is always there (what is done in a stay ends before anything begins in a later one),
 * in everybody's hours, whoever is free. NEVER where nothing is known, -1 where it is too late whenever. Each operation takes
 * the mode that can begin last.
 */
export class LatestTimes {
  start = new Int32Array(64);
  end = new Int32Array(64);
  #job: JobModel | null = null;
  #target = -1;
  #edge: 'start' | 'end' = 'end';
  #deadline = NEVER;

  /** Works the times out, unless they are at hand from the question before. */
  read(job: JobModel, target: number, edge: 'start' | 'end', deadline: number): void {
    if (this.#job === job && this.#deadline === deadline && this.#target === target && this.#edge === edge) return;
    this.#job = job;
    this.#target = target;
    this.#edge = edge;
    this.#deadline = deadline;
    const { operations } = job;
    const size = operations.length;
    if (this.start.length < size) {
      this.start = new Int32Array(2 * size);
      this.end = new Int32Array(2 * size);
    }
    const { start, end } = this;
    /** The latest at which all that starts in any later stay still can. */
    let later = NEVER;
    let ofStage = NEVER;
    for (let i = size - 1; i >= 0; i--) {
      const operation = operations[i]!;
      if (i + 1 < size && operations[i + 1]!.stage !== operation.stage) {
        later = Math.min(later, ofStage);
        ofStage = NEVER;
      }
      let startBy = i === target && edge === 'start' ? deadline : NEVER;
      let endBy = i === target && edge === 'end' ? deadline : NEVER;
      if (operation.inStay) endBy = Math.min(endBy, later);
      for (const lag of operation.lags) {
        if (lag.from !== i || lag.to <= i || operations[lag.to]!.optional) continue;
        const beyond = (lag.toEnd ? end : start)[lag.to]!;
        if (beyond >= NEVER) continue;
        if (lag.fromEnd) endBy = Math.min(endBy, beyond - lag.min);
        else startBy = Math.min(startBy, beyond - lag.min);
      }
      if (endBy < NEVER && operation.fixing !== 'pinned') startBy = Math.min(startBy, lastStart(operation, endBy));
      if (startBy < NEVER && operation.startIn !== null) startBy = operation.startIn.lastInside(startBy);
      start[i] = Math.max(-1, startBy);
      end[i] = Math.max(-1, endBy);
      if (operation.inStay && !operation.optional) ofStage = Math.min(ofStage, start[i]!);
    }
  }
}

/** The latest start from which some mode ends by `end`; -1 when none does. */
function lastStart(operation: OperationModel, end: number): number {
  const { byPattern, modes, pausable } = operation;
  let last = -1;
  for (let k = 0; k < byPattern.length; k++) {
    last = Math.max(last, lastStartOf(modes[byPattern[k]![0]!]!, pausable, end, last));
  }
  return last;
}

function lastStartOf(
  { work, calendar, leastMinutes }: ModeModel,
  pausable: boolean,
  end: number,
  known: number,
): number {
  if (work <= 0) return end;
  if (end - leastMinutes <= known) return -1;
  return pausable ? calendar.latestStart(end, work) : lastUnbroken(calendar, end, work);
}

/** The latest start from which `work` is done by `end` within one run of the calendar; -1 when there is none. */
function lastUnbroken(calendar: WorkCalendar, end: number, work: number): number {
  const { runFrom, runTo, runRate } = calendar;
  let run = Math.min(calendar.runAt(end), runFrom.length - 1);
  if (run >= 0 && runFrom[run]! >= end) run--;
  for (; run >= 0; run--) {
    const until = Math.min(end, runTo[run]!);
    const start = runRate[run] === 1 ? until - work : calendar.latestStart(until, work);
    if (start >= runFrom[run]!) return start;
  }
  return -1;
}
