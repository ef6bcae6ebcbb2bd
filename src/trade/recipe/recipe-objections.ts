import type { Recipe } from '../model/recipe.ts';
import { branchObjections } from './branch-objections.ts';
import { holdPointObjections } from './hold-point-objections.ts';
import { lagObjections } from './lag-objections.ts';
import type { RecipeObjection } from './recipe-objection.ts';
import { spanObjections } from './span-objections.ts';
import { stepObjections } from './step-objections.ts';

/** What keeps a recipe from being planned or worked safely. Empty when the recipe is sound. */
export function recipeObjections(recipe: Recipe): RecipeObjection[] {
  return [
    ...stepObjections(recipe),
    ...lagObjections(recipe),
    ...branchObjections(recipe),
    ...spanObjections(recipe),
    ...holdPointObjections(recipe),
  ];
}
