import type { Recipe } from '../model/recipe.ts';

/** Air spans and stills run forward between known steps, and a recipe that coats has both. */
export function spanObjections(recipe: Recipe): string[] {
  const objections: string[] = [];
  const order = new Map(recipe.steps.map((step, index) => [step.key, index]));
  const forward = (field: string, from: string, to: string) => {
    const first = order.get(from);
    const second = order.get(to);
    if (first === undefined) objections.push(`${field}.from.step is not a step`);
    if (second === undefined) objections.push(`${field}.to.step is not a step`);
    if (first !== undefined && second !== undefined && second < first) objections.push(`${field} must run forward`);
  };
  recipe.airSpans.forEach((span, index) => {
    forward(`airSpans.${index} (${span.label})`, span.from.step, span.to.step);
  });
  recipe.stills.forEach((still, index) => {
    forward(`stills.${index}`, still.from.step, still.to.step);
  });
  if (!recipe.steps.some((step) => step.kind === 'coatLayer')) return objections;
  if (!recipe.airSpans.some((span) => span.label === 'openCoating')) {
    objections.push(
      'airSpans: a recipe that coats keeps its air free of dust, from the wipe to dust-safe (openCoating)',
    );
  }
  if (recipe.stills.length === 0) objections.push('stills: a coated car is not moved from the final wipe to move-safe');
  return objections;
}
