import type { Schedule } from '../problem/solution.ts';

/** A heuristic that looks for schedules beside the proof. */
export interface IncumbentSource {
  /** Least makespan found so far; infinite before there is one. */
  readonly makespan: number;
  /** Work done, in steps of about the cost of one trail entry of the proof. */
  readonly work: number;
  /** Searches for about so much more work, until the makespan is at most `enough` or `stop` says so. */
  run(work: number, enough: number, stop: () => boolean): void;
  /** The best schedule found. */
  schedule(): Schedule;
  /** Goes on from a schedule found elsewhere. */
  adopt(schedule: Schedule): void;
}
