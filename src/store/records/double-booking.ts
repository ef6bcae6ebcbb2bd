import { DoubleBooking } from '../contract/errors.ts';
import type { Stretch } from '../contract/floor.ts';

interface Taken extends Stretch {
  readonly placeId: string;
}

/**
 * Finds two stretches of one place that overlap, to name the place; the database refuses them too, but SQLite cannot say
 * which. O(n log n).
 * @throws DoubleBooking
 */
export function refuseOverlaps(taken: readonly Taken[]): void {
  const byPlace = [...taken].sort((a, b) => (a.placeId < b.placeId ? -1 : a.placeId > b.placeId ? 1 : a.from - b.from));
  let end = Number.NEGATIVE_INFINITY;
  let placeId: string | null = null;
  for (const each of byPlace) {
    if (each.placeId === placeId && each.from < end) throw new DoubleBooking(placeId);
    end = each.placeId === placeId ? Math.max(end, each.to) : each.to;
    placeId = each.placeId;
  }
}
