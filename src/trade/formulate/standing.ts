import type { JobId, PlaceId } from '../model/ids.ts';
import type { Job } from '../model/job.ts';
import type { Instant } from '../model/time.ts';
import type { FloorRecord } from './floor-record.ts';
import type { Notice } from './formulation.ts';
import type { Frame } from './frame.ts';

/** Where a car stands now, and since when. */
export interface Standing {
  /** Index into the problem's places. */
  readonly place: number;
  readonly from: number;
  readonly since: Instant;
}

export interface Stander {
  readonly job: Job;
  readonly record: FloorRecord;
}

/**
 * Where the cars in the shop stand. A place holds one car: of two that are recorded in the same place the one that came
 * later is believed, and where the other stands is not known until somebody says so. A place the shop does not have is none.
 */
export function whereCarsStand(frame: Frame, cars: readonly Stander[], notices: Notice[]): Map<JobId, Standing> {
  const standing = new Map<JobId, Standing>();
  const taken = new Set<PlaceId>();
  for (const { job, placeId, from } of lastVisits(cars)) {
    const place = frame.placeOf.get(placeId);
    if (place === undefined) {
      const text = `The car is said to stand in "${placeId}", which is not a place of the shop.`;
      notices.push({ kind: 'unknownPlace', jobId: job.id, operation: null, text });
    } else if (taken.has(placeId)) {
      const text = `Another car has come to "${frame.book.places[place]!.name}" since: where this one stands is not known.`;
      notices.push({ kind: 'unknownPlace', jobId: job.id, operation: null, text });
    } else {
      taken.add(placeId);
      standing.set(job.id, { place, from: frame.axis.toMinute(from, 'floor'), since: from });
    }
  }
  return standing;
}

/** The last visit of each car that has come, the latest first. */
function lastVisits(cars: readonly Stander[]) {
  const visits: { readonly job: Job; readonly placeId: PlaceId; readonly from: Instant }[] = [];
  for (const { job, record } of cars) {
    const last = record.visits.at(-1);
    if (last !== undefined) visits.push({ job, placeId: last.placeId, from: last.from });
  }
  return visits.sort((a, b) => b.from - a.from);
}
