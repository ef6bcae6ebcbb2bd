import type { Recipe, RecipeStep } from '../../trade/model/recipe.ts';

/** The recipe's step an operation comes from: its key up to the first dot; null for moves and rework, which no recipe lists. */
export function stepOf(recipe: Pick<Recipe, 'steps'>, operation: string): RecipeStep | null {
  const key = operation.split('.')[0];
  return recipe.steps.find((step) => step.key === key) ?? null;
}
