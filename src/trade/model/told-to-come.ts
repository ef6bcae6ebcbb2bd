import type { Job } from './job.ts';
import type { Instant } from './time.ts';

/** When a car is told to come, else when it may come at the earliest. */
export function toldToCome({ dropOffAt, earliestDropOff }: Pick<Job, 'dropOffAt' | 'earliestDropOff'>): Instant {
  return dropOffAt ?? earliestDropOff;
}
