import type { Recipe } from '../model/recipe.ts';
import type { RecipeObjection } from './recipe-objection.ts';

/** Branches and the steps with presence `branch` name each other, each step in one branch only. */
export function branchObjections(recipe: Recipe): RecipeObjection[] {
  const objections: RecipeObjection[] = [];
  const branchOf = new Map<string, number>();
  recipe.branches.forEach((branch, index) => {
    branch.alternatives.forEach((alternative, a) => {
      alternative.forEach((key, k) => {
        const object = (text: string) =>
          objections.push({ field: `branches.${index}.alternatives.${a}.${k}`, text: `${branch.name}: ${text}` });
        const step = recipe.steps.find((one) => one.key === key);
        if (!step) object(`there is no step "${key}"`);
        else if (step.presence.when !== 'branch') object(`"${key}" is not marked as a branch's step`);
        if ((branchOf.get(key) ?? index) !== index) object(`"${key}" is in another branch too`);
        branchOf.set(key, index);
      });
    });
  });
  recipe.steps.forEach((step, index) => {
    if (step.presence.when === 'branch' && !branchOf.has(step.key)) {
      objections.push({
        field: `steps.${index}.presence`,
        text: `${step.label} is a branch's, but no branch names it`,
      });
    }
  });
  return objections;
}
