import { recordKey } from '../../../trade/formulate/floor-record.ts';
import type { PlannedOperation } from '../../../trade/model/plan.ts';
import type { RecipeStep } from '../../../trade/model/recipe.ts';
import type { Objection } from '../../problems/shop-problem.ts';
import { stepOf } from '../recipe-step.ts';
import type { Situation } from './situation.ts';

const holdPointWords = {
  cleanPaint: 'the inspection on clean paint',
  decontaminated: 'the check that every surface is decontaminated',
  wholeCarFinished: 'the check that the whole car is finished',
  final: 'the final inspection',
} as const;

/**
 * Work follows the recipe's order: what stands before it in the list is finished, unless a lag between the two says
 * otherwise; and the operation itself is still to be done. A hold point is named as such.
 */
export function orderGate(situation: Situation): Objection[] {
  const { operation, happened, step, recipe } = situation;
  const own = happened.work.get(recordKey(operation));
  if (own !== undefined && own.state !== 'abandoned' && own.state !== 'paused') {
    const word = own.state === 'underWay' ? 'under way' : 'finished';
    return [{ rule: 'alreadyDone', field: 'operation', text: `The work is ${word} already.` }];
  }
  if (step === null) return [];
  const linked = new Set(
    recipe.lags
      .filter((lag) => lag.to.step === step.key && !(lag.from.edge === 'end' && lag.to.edge === 'start'))
      .map((lag) => lag.from.step),
  );
  const index = recipe.steps.indexOf(step);
  return situation.planned
    .map((planned) => ({ planned, before: stepOf(recipe, planned.operation) }))
    .filter(
      (each): each is { planned: PlannedOperation; before: RecipeStep } =>
        each.before !== null &&
        recipe.steps.indexOf(each.before) < index &&
        !linked.has(each.before.key) &&
        !inAnotherBranch(situation, each.before, step) &&
        !isOver(situation, each.planned),
    )
    .map(({ planned, before }) =>
      before.holdPoint === null
        ? { rule: 'order', field: 'operation', text: `${planned.label} comes before it and is not finished.` }
        : {
            rule: `holdPoint.${before.holdPoint}`,
            field: 'operation',
            text: `The hold point is not passed: ${holdPointWords[before.holdPoint]} (${planned.label}) is not finished.`,
          },
    );
}

function isOver(situation: Situation, planned: PlannedOperation): boolean {
  const state = situation.happened.work.get(recordKey(planned.operation))?.state;
  return state === 'finished' || state === 'abandoned' || planned.start === planned.end;
}

function inAnotherBranch(situation: Situation, one: RecipeStep, other: RecipeStep): boolean {
  return situation.recipe.branches.some((branch) => {
    const of = (step: RecipeStep) => branch.alternatives.findIndex((keys) => keys.includes(step.key));
    return of(one) >= 0 && of(other) >= 0 && of(one) !== of(other);
  });
}
