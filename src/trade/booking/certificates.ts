import type { Coating } from '../model/coating.ts';
import { hasSkill } from '../model/has-skill.ts';
import type { Technician } from '../model/people.ts';
import type { Recipe, RecipeStep } from '../model/recipe.ts';
import type { BookingObjection } from './objection.ts';

/** Whether a person may do a step on a day: skill at its level, and an unexpired certificate where one is asked. */
export function qualified(technician: Technician, step: RecipeStep, day: string): boolean {
  const { skill, level, certified } = step.crew;
  const holds =
    !certified || technician.certificates.some((one) => one.coatingId === step.coatingId && one.expiresOn >= day);
  return hasSkill(technician, skill, level) && holds;
}

/** Steps that nobody, or too few, in the shop may do on the day. `steps` are those the job has. */
export function certificateObjections(
  steps: Recipe['steps'],
  technicians: readonly Technician[],
  coatings: readonly Coating[],
  day: string,
): BookingObjection[] {
  const texts = steps.flatMap((step) => {
    const able = technicians.filter((technician) => qualified(technician, step, day)).length;
    if (able >= step.crew.size) return [];
    const coating = coatings.find((one) => one.id === step.coatingId)?.name ?? step.coatingId;
    const certificate = step.crew.certified ? ` with a certificate for ${coating} valid on ${day}` : '';
    return [
      `${step.label} needs ${step.crew.size} with ${step.crew.skill} level ${step.crew.level}${certificate}; ${able} in the shop`,
    ];
  });
  return [...new Set(texts)].map((text) => ({ field: 'recipeId', text, severity: 'refuse' }));
}
