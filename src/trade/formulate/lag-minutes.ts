import type { CoatingId } from '../model/ids.ts';
import type { RecipeLag, RecipeStep, StepDuration } from '../model/recipe.ts';
import { CannotPlan, type Car } from './car.ts';
import type { CoatingTimes } from './coating-times.ts';

export interface LagEnds {
  readonly lag: RecipeLag;
  readonly from: { readonly step: RecipeStep };
  readonly to: { readonly step: RecipeStep };
}

/**
 * Minutes of a lag's minimum or maximum. On a data sheet they are those of the coating laid at its beginning (else of the
 * one its end follows), in the least favourable of the zones the car may be in; from a fact on, in the air there was.
 */
export function lagMinutes(
  car: Car,
  times: CoatingTimes,
  { lag, from, to }: LagEnds,
  which: 'min' | 'max',
  zones: readonly (number | null)[],
  since?: number,
): number {
  const duration: StepDuration | null = lag[which];
  if (duration === null) return Number.POSITIVE_INFINITY;
  if (duration.by === 'minutes') return duration.minutes;
  const coatingId: CoatingId | null = from.step.coatingId ?? to.step.coatingId;
  if (duration.by === 'workContent' || coatingId === null) {
    const text = `The lag from "${from.step.key}" to "${to.step.key}" of recipe "${car.recipe.name}" names no minutes and no coating.`;
    throw new CannotPlan('recipeId', text);
  }
  return times.minutes(car.coating(coatingId), duration.item, zones, which === 'min' ? 'longest' : 'shortest', since);
}
