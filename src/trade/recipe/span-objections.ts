import type { z } from 'zod';
import type { Recipe, WorkKind } from '../model/recipe.ts';
import type { AirLabel } from '../model/shop.ts';
import type { RecipeObjection } from './recipe-objection.ts';

/** What keeps solvent vapour and sources of ignition apart is a rule of the plan, so both must be stated. */
const airOf: Partial<Record<WorkKind, z.infer<typeof AirLabel>>> = {
  panelWipe: 'vapour',
  glassCoat: 'vapour',
  wheelCoat: 'vapour',
  trimCoat: 'vapour',
  lampCure: 'ignition',
  compound: 'dust',
  finishPolish: 'dust',
};

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
  recipe.steps.forEach((step, index) => {
    const label = airOf[step.kind];
    const spanned = recipe.airSpans.some((span) => span.label === label && span.from.step === step.key);
    if (label === undefined || step.air.includes(label) || spanned) return;
    objections.push({ field: `steps.${index}.air`, text: `${step.label} puts ${label} on the air: it is missing` });
  });
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
