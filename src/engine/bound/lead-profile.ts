import { NEVER } from '../calendar/never.ts';
import type { JobModel } from '../construct/job-model.ts';
import type { AloneTimes } from './alone.ts';

/** How short the stay of a job can be, by when it comes, with the shop to itself. */
export interface LeadProfile {
  /** No plan, whenever the car comes, has fewer minutes from drop-off to ready. */
  readonly least: number;
  /** Drop-offs that were looked at, in order of time, and the fewest minutes from there to ready. */
  readonly at: readonly number[];
  readonly lead: readonly number[];
}

/** What a bound may fall short of the truth by, for fewer drop-offs to look at. */
const TOLERANCE = 0.02;
const LEAST_TOLERANCE_MINUTES = 15;

/**
 * Looks at drop-offs from the release to the horizon. The minute of being ready never falls when a car comes later, so after
 * a drop-off d that is ready at r no later one is shorter than L before r - L: that far it is skipped. Evaluating
 * only where L less a tolerance could be beaten makes the bound short of the best by at most that. `path`: fewest minutes
 * whatever the hours; ends the search when a drop-off comes as close.
 */
export function leadProfile(job: JobModel, alone: AloneTimes, now: number, horizon: number, path: number): LeadProfile {
  const at: number[] = [];
  const lead: number[] = [];
  let best = NEVER;
  let least = NEVER;
  for (let from = nextDropOff(job, Math.max(job.release, now)); from < horizon; ) {
    alone.read(job, from);
    const ready = alone.end[job.ready]!;
    if (alone.lastEnd > horizon) break;
    at.push(from);
    lead.push(ready - from);
    best = Math.min(best, ready - from);
    if (best - path <= LEAST_TOLERANCE_MINUTES) return { least: path, at, lead };
    const beaten = best - Math.max(LEAST_TOLERANCE_MINUTES, Math.floor(best * TOLERANCE));
    least = Math.min(least, beaten + 1);
    from = nextDropOff(job, Math.max(from + 1, ready - beaten));
  }
  return { least: at.length === 0 ? path : Math.max(path, least), at, lead };
}

function nextDropOff({ dropOffOpen }: JobModel, minute: number): number {
  return dropOffOpen === null ? minute : dropOffOpen.nextInside(minute);
}

/** Whether a job's drop-off is still to be chosen, so that its profile says something. */
export function hasProfile(job: JobModel): boolean {
  return job.ready >= 0 && !job.fixed && !job.inShop && job.stages[0]!.stay >= 0;
}
