import type { RecipeStep, WorkKind } from '../model/recipe.ts';
import type { Frame } from './frame.ts';

export const polishing: ReadonlySet<WorkKind> = new Set(['testSpot', 'compound', 'finishPolish']);

/** Polishing that exceeds a person's day cannot be done without a night between. */
export function isPausable(step: RecipeStep, minutes: number, frame: Frame): boolean {
  return step.pausable || (polishing.has(step.kind) && minutes > frame.book.shop.polishingLimitMinutes);
}
