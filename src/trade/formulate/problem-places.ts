import type { Place as ProblemPlace } from '../../engine/problem/problem.ts';
import type { Axis } from '../calendar/axis.ts';
import { type Days, placeHours } from '../calendar/open-hours.ts';
import type { PlaceId } from '../model/ids.ts';
import type { Place } from '../model/shop.ts';
import type { Book } from './book.ts';

/** The shop's places as the engine sees them. */
export function problemPlaces(
  book: Book,
  axis: Axis,
  days: Days,
  placeOf: ReadonlyMap<PlaceId, number>,
): ProblemPlace[] {
  const zoneOf = new Map<string, number>();
  for (const [index, { id }] of book.airZones.entries()) zoneOf.set(id, index);
  const places: ProblemPlace[] = [];
  for (const place of book.places) {
    const hours = placeHours(days, place.closures);
    const zone = place.airZoneId === null ? undefined : zoneOf.get(place.airZoneId);
    places.push({
      name: place.name,
      turnaround: place.turnaroundMinutes,
      ...(hours === undefined ? {} : { open: axis.toIntervals(hours) }),
      blockedBy: known(place.blockedBy, placeOf),
      ...(zone === undefined ? {} : { zone }),
      standingCost: standingCost(place),
    });
  }
  return places;
}

function known(ids: readonly PlaceId[], placeOf: ReadonlyMap<PlaceId, number>): number[] {
  const places: number[] = [];
  for (const id of ids) {
    const place = placeOf.get(id);
    if (place !== undefined) places.push(place);
  }
  return places;
}

/** What a car that only waits keeps from others: the yard nothing, a roof some coated car may need, a bay work. */
function standingCost({ kind, indoor }: Place): number {
  if (kind === 'bay') return 4;
  return indoor ? 1 : 0;
}
