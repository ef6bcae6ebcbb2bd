import type { Coating } from '../model/coating.ts';
import type { CoatingId } from '../model/ids.ts';
import type { AddOn, Recipe, RecipeStep, WorkKind } from '../model/recipe.ts';
import type { VehicleClass } from '../model/vehicle.ts';
import { commonNorms } from '../work-content/common-norms.ts';
import { paintAreaM2 } from '../work-content/quantities.ts';
import type { WorkNorms } from '../work-content/work-norms.ts';
import { practicalSpreadM2PerLitre } from './spreading-rate.ts';

/** Coated face of one wheel, in m2: face and barrel of an 18-inch wheel. Common practice, from memory. */
const WHEEL_AREA_M2 = 0.35;
/** Outside plastic trim of a car, in m2. Common practice, from memory. */
const TRIM_AREA_M2 = 1.2;

/** Area one layer of a laying step covers, in m2; 0 for steps that lay nothing. */
export function coatedAreaM2(kind: WorkKind, vehicleClass: VehicleClass, norms: WorkNorms = commonNorms): number {
  switch (kind) {
    case 'coatLayer':
      return paintAreaM2(vehicleClass, norms);
    case 'glassCoat':
      return norms.glassAreaM2[vehicleClass];
    case 'wheelCoat':
      return norms.wheels * WHEEL_AREA_M2;
    case 'trimCoat':
      return TRIM_AREA_M2;
    default:
      return 0;
  }
}

/** Millilitres of a coating for one layer over an area, practical loss included, rounded up. */
export function millilitresFor(sheet: Coating['dataSheet'], areaM2: number): number {
  return Math.ceil((areaM2 * 1000) / practicalSpreadM2PerLitre(sheet) - 1e-9);
}

/** A step that lays a coating on a car which has it: remedies are counted only when they are planned. */
export function laysCoating(step: RecipeStep, addOns: readonly AddOn[]): boolean {
  const present =
    step.presence.when === 'always' || (step.presence.when === 'addOn' && addOns.includes(step.presence.addOn));
  return present && step.coatingId !== null && coatedAreaM2(step.kind, 'compact') > 0;
}

/** Millilitres of each coating that a job's recipe and add-ons lay. */
export function coatingNeed(
  recipe: Pick<Recipe, 'steps'>,
  vehicleClass: VehicleClass,
  addOns: readonly AddOn[],
  coatings: readonly Pick<Coating, 'id' | 'dataSheet'>[],
  norms: WorkNorms = commonNorms,
): Map<CoatingId, number> {
  const need = new Map<CoatingId, number>();
  for (const step of recipe.steps) {
    const coating = coatings.find((one) => one.id === step.coatingId);
    if (!coating || !laysCoating(step, addOns)) continue;
    const millilitres = millilitresFor(coating.dataSheet, coatedAreaM2(step.kind, vehicleClass, norms));
    need.set(coating.id, (need.get(coating.id) ?? 0) + millilitres);
  }
  return need;
}
