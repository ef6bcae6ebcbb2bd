import { NEVER } from '../calendar/never.ts';
import type { JobModel, LagModel } from './job-model.ts';
import type { JobPlan } from './job-plan.ts';

/** When an operation may start and end, as read from its lags to everything that is placed already. */
export class LagWindow {
  earliest = 0;
  earliestEnd = 0;
  latestStart = NEVER;
  latestEnd = NEVER;

  read(job: JobModel, plan: JobPlan, present: Uint8Array, i: number, earliest: number): void {
    this.earliest = earliest;
    this.earliestEnd = 0;
    this.latestStart = NEVER;
    this.latestEnd = NEVER;
    for (const lag of job.operations[i]!.lags) {
      const comes = lag.to === i;
      const other = comes ? lag.from : lag.to;
      if (other === i || plan.mode[other]! < 0) continue;
      const at = plan.edge(other, comes ? lag.fromEnd : lag.toEnd);
      const bounded = lag.max < NEVER && !isRemedied(lag, present);
      const low = comes ? at + lag.min : bounded ? at - lag.max : 0;
      const high = comes ? (bounded ? at + lag.max : NEVER) : at - lag.min;
      if (comes ? lag.toEnd : lag.fromEnd) {
        this.earliestEnd = Math.max(this.earliestEnd, low);
        this.latestEnd = Math.min(this.latestEnd, high);
      } else {
        this.earliest = Math.max(this.earliest, low);
        this.latestStart = Math.min(this.latestStart, high);
      }
    }
  }
}

/** Whether the remedy of a lag is there, so that its maximum need not hold. */
export function isRemedied(lag: LagModel, present: Uint8Array): boolean {
  if (lag.remedy.length === 0) return false;
  for (const remedy of lag.remedy) if (present[remedy] === 0) return false;
  return true;
}

/** Whether a lag's maximum is overrun in the plan. */
export function hasLapsed(lag: LagModel, plan: JobPlan): boolean {
  return plan.edge(lag.to, lag.toEnd) - plan.edge(lag.from, lag.fromEnd) > lag.max;
}
