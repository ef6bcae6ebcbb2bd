import type { JobId } from '../model/ids.ts';
import type { FloorEvent } from '../model/job.ts';

/** Facts by the car they are of, in the order given. */
export function eventsByJob(events: readonly FloorEvent[]): Map<JobId, FloorEvent[]> {
  const byJob = new Map<JobId, FloorEvent[]>();
  for (const event of events) {
    const known = byJob.get(event.jobId);
    if (known === undefined) byJob.set(event.jobId, [event]);
    else known.push(event);
  }
  return byJob;
}
