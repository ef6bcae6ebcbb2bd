import { readFloor, type WorkRecord } from '../../trade/formulate/floor-record.ts';
import type { PlaceId, TechnicianId } from '../../trade/model/ids.ts';
import type { FloorEvent } from '../../trade/model/job.ts';
import type { Instant } from '../../trade/model/time.ts';

/** One car's visit as the floor told it, up to an instant. */
export interface Happened {
  /** By operation key, as the plan reads the floor too. */
  readonly work: ReadonlyMap<string, WorkRecord>;
  readonly stays: readonly { readonly placeId: PlaceId; readonly from: Instant; readonly to: Instant | null }[];
  readonly arrivedAt: Instant | null;
  readonly pickedUpAt: Instant | null;
}

/**
 * Reads the facts of one job that occurred by `until`, whatever the order in which they were told.
 * @param leftAt when the car left, where that is known: counts as the pickup when nobody told one.
 */
export function whatHappened(events: readonly FloorEvent[], until: Instant, leftAt?: Instant): Happened {
  const known = events.filter((event) => event.occurredAt <= until);
  const { work, visits } = readFloor(known, until);
  const gone = known.filter((event) => event.fact.kind === 'pickedUp').map((event) => event.occurredAt);
  const left = leftAt !== undefined && leftAt <= until ? leftAt : null;
  const pickedUpAt = gone.length === 0 ? left : (Math.min(...gone) as Instant);
  return {
    work,
    stays: visits.map((visit, index) => ({ ...visit, to: visits[index + 1]?.from ?? pickedUpAt })),
    arrivedAt: visits[0]?.from ?? null,
    pickedUpAt,
  };
}

/** Who does a piece of work now, goes on with it, or did it last. */
export function workers(record: WorkRecord): readonly TechnicianId[] {
  return record.handedTo ?? record.pieces.at(-1)?.by ?? [];
}

/** When work was ended for good; null while it is not. */
export function endedAt(record: WorkRecord): Instant | null {
  return record.state === 'finished' || record.state === 'abandoned' ? (record.pieces.at(-1)?.to ?? null) : null;
}
