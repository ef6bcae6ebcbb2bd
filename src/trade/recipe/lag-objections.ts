import type { Recipe, RecipeLag } from '../model/recipe.ts';
import type { RecipeObjection } from './recipe-objection.ts';

/** Lags that run forward between known steps, whose maximum can lapse without stopping the plan. */
export function lagObjections(recipe: Recipe): RecipeObjection[] {
  const objections: RecipeObjection[] = [];
  const object = (field: string, text: string) => objections.push({ field, text });
  const order = new Map(recipe.steps.map((step, index) => [step.key, index]));
  recipe.lags.forEach((lag, index) => {
    const field = `lags.${index}`;
    const from = order.get(lag.from.step);
    const to = order.get(lag.to.step);
    if (from === undefined) object(`${field}.from.step`, `there is no step "${lag.from.step}"`);
    if (to === undefined) object(`${field}.to.step`, `there is no step "${lag.to.step}"`);
    if (from === undefined || to === undefined) return;
    if (to <= from) object(field, `"${lag.from.step}" to "${lag.to.step}" must run forward in the order of the steps`);
    for (const bound of ['min', 'max'] as const) {
      if (lag[bound]?.by === 'workContent') object(`${field}.${bound}`, 'minutes or a data sheet, not work content');
      if (lag[bound]?.by === 'dataSheet' && recipe.steps[from]!.coatingId === null) {
        object(`${field}.${bound}`, `is on a data sheet, but "${lag.from.step}" names no coating`);
      }
    }
    if (lag.min.by === 'minutes' && lag.max?.by === 'minutes' && lag.max.minutes < lag.min.minutes) {
      object(`${field}.max`, `${lag.max.minutes} min is below the least lag, ${lag.min.minutes} min`);
    }
    objections.push(...remedyObjections(recipe, lag, `${field}.remedy`, from, to));
  });
  const named = new Set(recipe.lags.flatMap((lag) => lag.remedy));
  recipe.steps.forEach((step, index) => {
    if (step.presence.when === 'remedy' && !named.has(step.key)) {
      object(`steps.${index}.presence`, `${step.label} is a remedy, but no lag names it`);
    }
  });
  return objections;
}

function remedyObjections(recipe: Recipe, lag: RecipeLag, field: string, from: number, to: number): RecipeObjection[] {
  const objections: RecipeObjection[] = [];
  if (lag.max !== null && lag.remedy.length === 0) {
    objections.push({ field, text: 'is empty: once the maximum has lapsed the job could never be planned again' });
  }
  if (lag.max === null && lag.remedy.length > 0) {
    objections.push({ field, text: 'makes good a maximum that is not given' });
  }
  let reached = from;
  lag.remedy.forEach((key, index) => {
    const at = recipe.steps.findIndex((step) => step.key === key);
    const object = (text: string) => objections.push({ field: `${field}.${index}`, text });
    if (at === -1) {
      object(`there is no step "${key}"`);
      return;
    }
    if (recipe.steps[at]!.presence.when !== 'remedy') object(`"${key}" is not marked as a remedy`);
    if (at <= reached || at >= to) object(`"${key}" must lie between the two steps, in order`);
    reached = at;
  });
  // When the window has lapsed every regular step before `to` may be a fact already; a remedy asked before one of
  // them could not be planned any more.
  const between = lag.remedy.length > 0 ? recipe.steps.slice(reached + 1, Math.max(to, reached + 1)) : [];
  const late = between.find((step) => step.presence.when !== 'remedy');
  if (late)
    objections.push({ field, text: `must stand directly before "${lag.to.step}", but "${late.key}" lies between` });
  return objections;
}
