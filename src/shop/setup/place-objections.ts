import type { Place } from '../../trade/model/shop.ts';
import type { Objection } from '../problems/shop-problem.ts';

/** What in a place contradicts itself. */
export function placeObjections(place: Place): Objection[] {
  const objections: Objection[] = [];
  const working = place.capabilities.filter((capability) => capability !== 'hold');
  if (place.kind === 'parking' && working.length > 0) {
    objections.push({
      rule: 'parkingHoldsOnly',
      field: 'capabilities',
      text: `A parking place stands cars and has no work: ${working.join(', ')} cannot be done there.`,
    });
  }
  const air = place.capabilities.filter((capability) => capability === 'coating' || capability === 'curing');
  if (air.length > 0 && place.airZoneId === null) {
    objections.push({
      rule: 'coatingHasAir',
      field: 'airZoneId',
      text: `A place for ${air.join(' and ')} needs an air zone.`,
    });
  }
  if (place.blockedBy.includes(place.id)) {
    objections.push({ rule: 'blockedByOthers', field: 'blockedBy', text: 'A place cannot block itself.' });
  }
  return objections;
}
