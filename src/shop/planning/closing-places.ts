import { addDays, localDate } from '../../trade/calendar/local-instant.ts';
import { placeHours } from '../../trade/calendar/open-hours.ts';
import type { Book, Releases } from '../../trade/formulate/book.ts';
import type { Formulation } from '../../trade/formulate/formulation.ts';
import type { JobId } from '../../trade/model/ids.ts';
import type { Plan } from '../../trade/model/plan.ts';
import type { Instant } from '../../trade/model/time.ts';
import { carName } from '../jobs/job-view.ts';
import type { ToRaise } from '../records/raise-exception.ts';

/** Cars that stand in a place that closes some time, or is closed. */
export function carsInClosing({ problem, jobs }: Formulation): readonly JobId[] {
  const cars = problem.stays.flatMap(({ job, fixed }): JobId[] =>
    fixed?.from !== undefined && problem.places[fixed.place]!.open !== undefined ? [jobs[job]!.job.id] : [],
  );
  return [...new Set(cars)];
}

/**
 * Lets cars stand on where they are though the place closes around them: those that the search names, or all of them. Null when that
 * is not enough for a plan.
 */
export async function standingOn(
  named: readonly JobId[],
  inClosing: readonly JobId[],
  hasPlan: (releases: Releases) => Promise<boolean>,
): Promise<Releases | null> {
  for (const some of [inClosing.filter((id) => named.includes(id)), inClosing]) {
    const releases = { closuresOf: new Set(some) };
    if (some.length > 0 && (await hasPlan(releases))) return releases;
  }
  return null;
}

/** Cars that a plan leaves standing in a place that closes around them, told once for each day on which it does. */
export function closedAround(book: Book, plan: Plan, cars: ReadonlySet<JobId>): ToRaise[] {
  const zone = book.shop.timeZone;
  return plan.stays.flatMap(({ jobId, placeId, from, to }): ToRaise[] => {
    const place = book.places.find(({ id }) => id === placeId);
    const job = book.jobs.find(({ id }) => id === jobId);
    if (!cars.has(jobId) || from > book.now || to <= book.now || place === undefined || job === undefined) return [];
    const days = { zone, from: localDate(book.now, zone), to: addDays(localDate(to, zone), 1) };
    const closes = placeHours(days, place.closures)?.find((open) => open.to > book.now && open.to < to)?.to;
    if (closes === undefined) return [];
    const day = localDate(closes as Instant, zone);
    const text = `${carName(job)}: no plan gets it out of ${place.name} before that closes (${day}); it stands on there. Move it, or have the place opened.`;
    return [{ kind: 'freezeReleased', jobId, cause: `stands on in ${placeId} ${day}`, text }];
  });
}
