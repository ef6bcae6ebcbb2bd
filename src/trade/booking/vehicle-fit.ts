import type { Recipe, RecipeStep } from '../model/recipe.ts';
import type { Place } from '../model/shop.ts';
import type { Vehicle } from '../model/vehicle.ts';
import type { BookingObjection } from './objection.ts';

/** Places a stay can be held in: all it needs, and room for the car. */
export function placesFor(
  needs: Recipe['stays'][number]['needs'],
  vehicle: Pick<Vehicle, 'lengthMm' | 'heightMm'>,
  places: readonly Place[],
): Place[] {
  return places.filter(
    (place) =>
      needs.every((need) => place.capabilities.includes(need)) &&
      vehicle.lengthMm <= place.maxLengthMm &&
      vehicle.heightMm <= place.maxHeightMm,
  );
}

/**
 * A vehicle too long or too high for every place that a stay of the recipe can use. A stay that may be left out counts when
 * one of the `certain` steps is done in it.
 */
export function vehicleFitObjections(
  recipe: Pick<Recipe, 'stays'>,
  vehicle: Pick<Vehicle, 'lengthMm' | 'heightMm'>,
  places: readonly Place[],
  certain: readonly Pick<RecipeStep, 'stay'>[] = [],
): BookingObjection[] {
  return recipe.stays.flatMap((stay): BookingObjection[] => {
    const needed = !stay.optional || certain.some((step) => step.stay === stay.key);
    if (!needed || placesFor(stay.needs, vehicle, places).length > 0) return [];
    const able = placesFor(stay.needs, { lengthMm: 0, heightMm: 0 }, places);
    const needs = stay.needs.join(' and ');
    if (able.length === 0) {
      return [{ field: 'recipeId', text: `no place offers ${needs} for the stay "${stay.key}"`, severity: 'refuse' }];
    }
    const longest = Math.max(...able.map((place) => place.maxLengthMm));
    const tooLong = vehicle.lengthMm > longest;
    const highest = Math.max(...able.map((place) => place.maxHeightMm));
    const text = tooLong
      ? `${vehicle.lengthMm} mm long; the longest place for ${needs} takes ${longest} mm`
      : `${vehicle.heightMm} mm high; places for ${needs} long enough do not take it, the highest of all takes ${highest} mm`;
    return [{ field: tooLong ? 'vehicle.lengthMm' : 'vehicle.heightMm', text, severity: 'refuse' }];
  });
}
