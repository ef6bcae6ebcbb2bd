import { coatingNeed } from '../materials/coating-need.ts';
import { stockSuffices } from '../materials/stock.ts';
import type { Coating } from '../model/coating.ts';
import type { AddOn, Recipe } from '../model/recipe.ts';
import type { Instant } from '../model/time.ts';
import type { VehicleClass } from '../model/vehicle.ts';
import type { BookingObjection } from './objection.ts';

/** Coatings that run short on the day, or that the shop does not know. Short stock can be ordered, so it is a question. */
export function coatingStockObjections(
  recipe: Recipe,
  vehicleClass: VehicleClass,
  addOns: readonly AddOn[],
  coatings: readonly Coating[],
  at: Instant,
  day: string,
  bookedMillilitres: ReadonlyMap<Coating['id'], number> = new Map(),
): BookingObjection[] {
  const unknown = recipe.steps
    .filter((step) => step.coatingId !== null && !coatings.some((coating) => coating.id === step.coatingId))
    .map(
      (step): BookingObjection => ({
        field: 'recipeId',
        text: `${step.label} lays coating "${step.coatingId}", which the shop does not have`,
        severity: 'refuse',
      }),
    );
  const short = [...coatingNeed(recipe, vehicleClass, addOns, coatings)].flatMap(([id, needed]): BookingObjection[] => {
    const coating = coatings.find((one) => one.id === id)!;
    const verdict = stockSuffices(coating, needed, at, day, bookedMillilitres.get(id) ?? 0);
    return verdict.suffices ? [] : [{ field: 'recipeId', text: verdict.text, severity: 'ask' }];
  });
  return [...unknown, ...short];
}
