import type { Recipe } from '../model/recipe.ts';
import type { RecipeObjection } from './recipe-objection.ts';

/** Air spans and stills run forward between known steps, and a recipe that coats has both. */
export function spanObjections(recipe: Recipe): RecipeObjection[] {
  const objections: RecipeObjection[] = [];
  const order = new Map(recipe.steps.map((step, index) => [step.key, index]));
  for (const list of ['airSpans', 'stills'] as const) {
    recipe[list].forEach((span, index) => {
      const field = `${list}.${index}`;
      const from = order.get(span.from.step);
      const to = order.get(span.to.step);
      if (from === undefined) objections.push({ field: `${field}.from.step`, text: `no step "${span.from.step}"` });
      if (to === undefined) objections.push({ field: `${field}.to.step`, text: `no step "${span.to.step}"` });
      if (from !== undefined && to !== undefined && to < from) objections.push({ field, text: 'must run forward' });
    });
  }
  if (!recipe.steps.some((step) => step.kind === 'coatLayer')) return objections;
  if (!recipe.airSpans.some((span) => span.label === 'openCoating')) {
    objections.push({
      field: 'airSpans',
      text: 'open coating keeps dust out from the wipe to dust-safe: it is missing',
    });
  }
  if (recipe.stills.length === 0) {
    objections.push({
      field: 'stills',
      text: 'a coated car is not moved from the final wipe to move-safe: it is missing',
    });
  }
  return objections;
}
