import type { RecipeStep } from '../model/recipe.ts';
import { stepPresence } from '../recipe/steps-of.ts';
import type { CarAtWork } from './car.ts';
import { compoundInstances, compoundPasses, inspectionInstances } from './repeated-steps.ts';
import { instanceOf, isWanted, type StepInstance } from './step-instance.ts';

/** A step, or a choice that is still open. */
export type Item =
  | { readonly kind: 'step'; readonly instance: StepInstance }
  | { readonly kind: 'branch'; readonly name: string; readonly alternatives: readonly (readonly StepInstance[])[] };

/**
 * The work a car gets, in order: steps whose presence rule holds or that the floor has begun anyway, a compounding
 * operation for each pass, branches still open (one that the floor has chosen is no branch any more), and after a final
 * inspection that failed its rework and another final inspection. Work that would take no time is left out.
 */
export function itemsOf(car: CarAtWork): Item[] {
  const branchOf = new Map(
    car.recipe.branches.flatMap((branch) => branch.alternatives.flat().map((key) => [key, branch])),
  );
  const items: Item[] = [];
  const done = new Set<string>();
  const passes = compoundPasses(car);
  for (const step of car.recipe.steps) {
    const branch = branchOf.get(step.key);
    if (branch !== undefined) {
      if (done.has(branch.name)) continue;
      done.add(branch.name);
      const alternatives = branch.alternatives.map((keys) =>
        keys.map((key) => instanceOf(car, stepOf(car, key), key, 'branch')),
      );
      const chosen = alternatives.find((steps) => steps.some(({ record }) => record !== undefined));
      if (chosen === undefined) items.push({ kind: 'branch', name: branch.name, alternatives });
      else for (const instance of chosen) items.push({ kind: 'step', instance: { ...instance, role: 'sequence' } });
      continue;
    }
    if (step.presence.when === 'remedy') continue;
    for (const instance of instancesOf(car, step, passes)) items.push({ kind: 'step', instance });
  }
  return items;
}

function stepOf(car: CarAtWork, key: string): RecipeStep {
  return car.recipe.steps.find((step) => step.key === key)!;
}

function instancesOf(car: CarAtWork, step: RecipeStep, passes: number): StepInstance[] {
  const plain = (key: string) => instanceOf(car, step, key, 'sequence');
  const begun = repetitionsBegun(car, step);
  if (step.kind === 'compound') return compoundInstances(car, step, passes, begun);
  if (step.kind === 'finalInspection') return inspectionInstances(car, step);
  const present = stepPresence(step, car.job) === 'yes';
  const first = plain(step.key);
  const needed = present && (first.breakdown.minutes > 0 || step.duration.by !== 'workContent');
  const instances = needed || first.record !== undefined ? [first] : [];
  return [...instances.filter(isWanted), ...begun.filter((key) => key !== step.key).map(plain)];
}

/** Keys of a step and its repetitions that the floor has begun, in the order of their numbers. */
function repetitionsBegun(car: CarAtWork, step: RecipeStep): string[] {
  const number = (key: string) => Number(key.slice(step.key.length + 1) || 1);
  return [...car.record.work.keys()]
    .filter((key) => key === step.key || (key.startsWith(`${step.key}.`) && Number.isInteger(number(key))))
    .sort((a, b) => number(a) - number(b));
}
