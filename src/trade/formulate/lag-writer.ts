import type { Car } from './car.ts';
import { guards, JobLags } from './job-lags.ts';
import type { JobWork } from './job-work.ts';
import type { JobWriting } from './job-writer.ts';
import { linkSameCrews } from './same-crew-links.ts';
import { writeWindow } from './window-lags.ts';

/** Writes the order of a job's work: its links, the recipe's lags, and the windows with their remedies. */
export function writeLags(car: Car, work: JobWork, writing: JobWriting): void {
  const lags = new JobLags(car, work, writing);
  for (const { from, to } of work.order.links) lags.push(from, 'end', to, 'start', 0);
  for (const { lag, from, to } of work.order.bounds) {
    if (lag.max !== null) continue;
    const min = lags.minutes(lag, from, to, 'min', lag.from.edge);
    lags.push(from, lag.from.edge, to, lag.to.edge, min, guards(lag));
  }
  for (const window of work.windows) writeWindow(lags, window);
  linkSameCrews(car, work, writing.draft);
}
