import type { Recipe } from '../../trade/model/recipe.ts';
import type { Objection } from '../problems/shop-problem.ts';

/** What in a recipe contradicts itself: names that point nowhere, remedies and branches that are not marked so. */
export function recipeObjections(recipe: Recipe): Objection[] {
  const objections: Objection[] = [];
  const object = (rule: string, field: string, text: string) => objections.push({ rule, field, text });
  const steps = new Map(recipe.steps.map((step) => [step.key, step]));
  const stays = new Set(recipe.stays.map((stay) => stay.key));

  once(recipe.steps, (at) => object('keyOnce', `steps.${at}.key`, `Step ${recipe.steps[at]?.key} is there twice.`));
  once(recipe.stays, (at) => object('keyOnce', `stays.${at}.key`, `Stay ${recipe.stays[at]?.key} is there twice.`));

  const known = (key: string, field: string) => {
    if (!steps.has(key)) object('knownStep', field, `There is no step ${key}.`);
  };
  recipe.steps.forEach((step, at) => {
    if (!stays.has(step.stay)) object('knownStay', `steps.${at}.stay`, `There is no stay ${step.stay}.`);
    if (step.attendance.kind !== 'unattended' && step.crew.size === 0) {
      object('attendedHasCrew', `steps.${at}.crew.size`, `${step.label} is attended and needs somebody.`);
    }
    if (step.duration.by === 'dataSheet' && step.coatingId === null) {
      object(
        'dataSheetOfCoating',
        `steps.${at}.coatingId`,
        `${step.label} lasts by a data sheet and names no coating.`,
      );
    }
    if (step.crew.certified && step.coatingId === null) {
      object('certifiedForCoating', `steps.${at}.coatingId`, `${step.label} needs a certificate and names no coating.`);
    }
  });
  recipe.lags.forEach((lag, at) => {
    known(lag.from.step, `lags.${at}.from.step`);
    known(lag.to.step, `lags.${at}.to.step`);
    if (lag.min.by === 'minutes' && lag.max?.by === 'minutes' && lag.min.minutes > lag.max.minutes) {
      object(
        'minWithinMax',
        `lags.${at}.max`,
        `The longest lag, ${lag.max.minutes} min, is below the least, ${lag.min.minutes}.`,
      );
    }
    lag.remedy.forEach((key, index) => {
      known(key, `lags.${at}.remedy.${index}`);
      const remedy = steps.get(key);
      if (remedy && remedy.presence.when !== 'remedy') {
        object('remedyMarked', `lags.${at}.remedy.${index}`, `Step ${key} is a remedy here and not marked as one.`);
      }
    });
    if (lag.remedy.length > 0 && lag.max === null) {
      object('remedyForMax', `lags.${at}.remedy`, 'A remedy makes good a longest lag, and there is none.');
    }
  });
  recipe.branches.forEach((branch, at) => {
    branch.alternatives.forEach((alternative, a) => {
      alternative.forEach((key, index) => {
        const field = `branches.${at}.alternatives.${a}.${index}`;
        known(key, field);
        const step = steps.get(key);
        if (step && step.presence.when !== 'branch') {
          object('branchMarked', field, `Step ${key} is in a branch and not marked so.`);
        }
      });
    });
  });
  for (const list of ['airSpans', 'stills'] as const) {
    recipe[list].forEach((span, at) => {
      known(span.from.step, `${list}.${at}.from.step`);
      known(span.to.step, `${list}.${at}.to.step`);
    });
  }
  return objections;
}

function once(items: readonly { readonly key: string }[], twice: (at: number) => void): void {
  const seen = new Set<string>();
  items.forEach((item, at) => {
    if (seen.has(item.key)) twice(at);
    seen.add(item.key);
  });
}
