import type { Recipe } from '../model/recipe.ts';

/** Branches and the steps with presence `branch` name each other, each step in one branch only. */
export function branchObjections(recipe: Recipe): string[] {
  const objections: string[] = [];
  const seen = new Map<string, number>();
  recipe.branches.forEach((branch, index) => {
    for (const key of new Set(branch.alternatives.flat())) {
      const field = `branches.${index} (${branch.name})`;
      const step = recipe.steps.find((one) => one.key === key);
      if (!step) objections.push(`${field} names "${key}", which is not a step`);
      else if (step.presence.when !== 'branch')
        objections.push(`${field} names "${key}", whose presence is not branch`);
      if (seen.has(key)) objections.push(`${field} names "${key}", which is in another branch too`);
      seen.set(key, index);
    }
  });
  recipe.steps.forEach((step, index) => {
    if (step.presence.when === 'branch' && !seen.has(step.key)) {
      objections.push(`steps.${index} (${step.key}).presence is branch, but no branch names it`);
    }
  });
  return objections;
}
