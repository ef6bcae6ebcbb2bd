import type { Recipe, RecipeStep } from '../model/recipe.ts';
import { stepPresence } from '../recipe/steps-of.ts';
import type { CarAtWork } from './car.ts';
import { compoundInstances, compoundPasses, inspectionInstances } from './repeated-steps.ts';
import { instanceOf, isWanted, type StepInstance } from './step-instance.ts';

type RecipeBranch = Recipe['branches'][number];

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
  const branchOf = branchesByStep(car.recipe);
  const items: Item[] = [];
  const done = new Set<string>();
  const passes = compoundPasses(car);
  for (const step of car.recipe.steps) {
    const branch = branchOf.get(step.key);
    if (branch !== undefined) {
      if (done.has(branch.name)) continue;
      done.add(branch.name);
      const alternatives = alternativesOf(car, branch);
      const chosen = chosenOf(alternatives);
      if (chosen === undefined) items.push({ kind: 'branch', name: branch.name, alternatives });
      else for (const instance of chosen) items.push({ kind: 'step', instance: { ...instance, role: 'sequence' } });
      continue;
    }
    if (step.presence.when === 'remedy') continue;
    for (const instance of instancesOf(car, step, passes)) items.push({ kind: 'step', instance });
  }
  return items;
}

function branchesByStep({ branches }: Recipe): Map<string, RecipeBranch> {
  const branchOf = new Map<string, RecipeBranch>();
  for (const branch of branches) {
    for (const keys of branch.alternatives) for (const key of keys) branchOf.set(key, branch);
  }
  return branchOf;
}

function alternativesOf(car: CarAtWork, branch: RecipeBranch): StepInstance[][] {
  const alternatives: StepInstance[][] = [];
  for (const keys of branch.alternatives) {
    const steps: StepInstance[] = [];
    for (const key of keys) steps.push(instanceOf(car, stepOf(car.recipe, key), key, 'branch'));
    alternatives.push(steps);
  }
  return alternatives;
}

/** The way of a choice of which the floor has recorded something. */
function chosenOf(alternatives: readonly StepInstance[][]): StepInstance[] | undefined {
  for (const steps of alternatives) {
    for (const { record } of steps) if (record !== undefined) return steps;
  }
  return undefined;
}

function stepOf({ name, steps }: Recipe, key: string): RecipeStep {
  for (const step of steps) if (step.key === key) return step;
  throw new RangeError(`Recipe "${name}" has no step "${key}".`);
}

function instancesOf(car: CarAtWork, step: RecipeStep, passes: number): StepInstance[] {
  const begun = repetitionsBegun(car, step);
  if (step.kind === 'compound') return compoundInstances(car, step, passes, begun);
  if (step.kind === 'finalInspection') return inspectionInstances(car, step);
  const instances: StepInstance[] = [];
  const first = instanceOf(car, step, step.key, 'sequence');
  const takesTime = first.breakdown.minutes > 0 || step.duration.by !== 'workContent';
  const needed = takesTime && stepPresence(step, car.job) === 'yes';
  if ((needed || first.record !== undefined) && isWanted(first)) instances.push(first);
  for (const key of begun) if (key !== step.key) instances.push(instanceOf(car, step, key, 'sequence'));
  return instances;
}

/** Keys of a step and its repetitions that the floor has begun, in the order of their numbers. */
function repetitionsBegun(car: CarAtWork, { key: first }: RecipeStep): string[] {
  const begun: string[] = [];
  for (const key of car.record.work.keys()) {
    if (key === first || (key.startsWith(`${first}.`) && Number.isInteger(numberIn(key, first)))) begun.push(key);
  }
  return begun.length < 2 ? begun : begun.sort((a, b) => numberIn(a, first) - numberIn(b, first));
}

/** The number of a repetition of the step with the key `first`; of the step itself 1. */
function numberIn(key: string, first: string): number {
  return Number(key.slice(first.length + 1) || 1);
}
