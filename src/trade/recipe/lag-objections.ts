import type { Recipe, RecipeLag } from '../model/recipe.ts';

/** Lags that run forward between known steps, whose maximum can lapse without stopping the plan. */
export function lagObjections(recipe: Recipe): string[] {
  const objections: string[] = [];
  const order = new Map(recipe.steps.map((step, index) => [step.key, index]));
  const named = new Set(recipe.lags.flatMap((lag) => lag.remedy));
  recipe.lags.forEach((lag, index) => {
    const field = `lags.${index} (${lag.from.step} to ${lag.to.step})`;
    const from = order.get(lag.from.step);
    const to = order.get(lag.to.step);
    if (from === undefined) objections.push(`${field}.from.step is not a step`);
    if (to === undefined) objections.push(`${field}.to.step is not a step`);
    if (from === undefined || to === undefined) return;
    if (to <= from) objections.push(`${field} must run forward in the order of the steps`);
    if ([lag.min, lag.max].some((bound) => bound?.by === 'workContent')) {
      objections.push(`${field}.min and max are minutes or on a data sheet, not work content`);
    }
    const onSheet = lag.min.by === 'dataSheet' || lag.max?.by === 'dataSheet';
    if (onSheet && recipe.steps[from]!.coatingId === null) {
      objections.push(`${field}.min or max is on a data sheet, but "${lag.from.step}" has no coating`);
    }
    if (lag.min.by === 'minutes' && lag.max?.by === 'minutes' && lag.max.minutes < lag.min.minutes) {
      objections.push(`${field}.max is below min`);
    }
    objections.push(...remedyObjections(recipe, lag, field, from, to));
  });
  recipe.steps.forEach((step, index) => {
    if (step.presence.when === 'remedy' && !named.has(step.key)) {
      objections.push(`steps.${index} (${step.key}).presence is remedy, but no lag names it`);
    }
  });
  return objections;
}

function remedyObjections(recipe: Recipe, lag: RecipeLag, field: string, from: number, to: number): string[] {
  const objections: string[] = [];
  if (lag.max !== null && lag.remedy.length === 0) {
    objections.push(`${field}.remedy is empty: once the maximum has lapsed the job could never be planned again`);
  }
  if (lag.max === null && lag.remedy.length > 0)
    objections.push(`${field}.remedy makes good a maximum that is not given`);
  const chain = [lag.from.step, ...lag.remedy, lag.to.step];
  for (const key of lag.remedy) {
    const at = recipe.steps.findIndex((step) => step.key === key);
    const step = recipe.steps[at];
    if (!step) objections.push(`${field}.remedy "${key}" is not a step`);
    else if (step.presence.when !== 'remedy') objections.push(`${field}.remedy "${key}" must have presence remedy`);
    else if (at <= from || at >= to) objections.push(`${field}.remedy "${key}" must lie between the two steps`);
  }
  if (lag.remedy.length === 0) return objections;
  for (let k = 0; k + 1 < chain.length; k++) {
    if (!recipe.lags.some((other) => other.from.step === chain[k] && other.to.step === chain[k + 1])) {
      objections.push(`${field}.remedy needs a lag from "${chain[k]}" to "${chain[k + 1]}"`);
    }
  }
  return objections;
}
