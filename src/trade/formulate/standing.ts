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
  const lastVisits = cars
    .flatMap(({ job, record }) => record.visits.slice(-1).map((visit) => ({ job, ...visit })))
    .sort((a, b) => b.from - a.from);
  const standing = new Map<JobId, Standing>();
  const taken = new Set<PlaceId>();
  for (const { job, placeId, from } of lastVisits) {
    const place = frame.placeOf.get(placeId);
    const unknown = (text: string) => notices.push({ kind: 'unknownPlace', jobId: job.id, operation: null, text });
    if (place === undefined) unknown(`The car is said to stand in "${placeId}", which is not a place of the shop.`);
    else if (taken.has(placeId)) {
      unknown(`Another car has come to "${frame.book.places[place]!.name}" since: where this one stands is not known.`);
    } else {
      taken.add(placeId);
      standing.set(job.id, { place, from: frame.axis.toMinute(from, 'floor'), since: from });
    }
  }
  return standing;
}
