import type { OperationKey } from '../model/ids.ts';
import type { RecipeStep } from '../model/recipe.ts';
import { stepPresence } from '../recipe/steps-of.ts';
import { type Breakdown, workContent } from '../work-content/work-content.ts';
import type { WorkFacts } from '../work-content/work-facts.ts';
import type { Car } from './car.ts';
import type { WorkRecord } from './floor-record.ts';
import { compoundInstances, compoundPasses, inspectionInstances } from './repeated-steps.ts';

/** A step of the recipe as this car gets it. */
export interface StepInstance {
  readonly step: RecipeStep;
  readonly key: OperationKey;
  readonly role: 'sequence' | 'branch' | 'remedy';
  /** Minutes at the norm's pace, with the crew size the recipe asks for. */
  readonly breakdown: Breakdown;
  readonly record?: WorkRecord;
}

export type Item =
  | { readonly kind: 'step'; readonly instance: StepInstance }
  | { readonly kind: 'branch'; readonly name: string; readonly alternatives: readonly (readonly StepInstance[])[] };

/**
 * The work a car gets, in order: steps whose presence rule holds or that the floor has begun anyway, a compounding
 * operation for each pass, branches still open (one that the floor has chosen is no branch any more), and after a final
 * inspection that failed its rework and another final inspection. Work that would take no time is left out.
 */
export function itemsOf(car: Car): Item[] {
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

function stepOf(car: Car, key: string): RecipeStep {
  return car.recipe.steps.find((step) => step.key === key)!;
}

/** @returns the instance; `facts` and `minutes` stand in for the car's own and the norm's where given. */
export function instanceOf(
  car: Car,
  step: RecipeStep,
  key: string,
  role: StepInstance['role'],
  given: { readonly facts?: WorkFacts; readonly breakdown?: Breakdown } = {},
): StepInstance {
  const record = recordOf(car, step, key);
  const breakdown = given.breakdown ?? breakdownOf(car, step, given.facts ?? car.facts);
  return { step, key: key as OperationKey, role, breakdown, ...(record === undefined ? {} : { record }) };
}

/** A handover that came to nothing has to be done again: it says nothing of the next. */
function recordOf(car: Car, { kind }: RecipeStep, key: string): WorkRecord | undefined {
  const record = car.record.work.get(key);
  return kind === 'handover' && record?.state === 'abandoned' ? undefined : record;
}

export function hasBegun({ record }: StepInstance): boolean {
  return record !== undefined && record.pieces.length > 0;
}

function breakdownOf(car: Car, step: RecipeStep, facts: WorkFacts): Breakdown {
  if (step.duration.by === 'minutes') {
    return { minutes: step.duration.minutes, lines: [{ label: 'as the recipe says', minutes: step.duration.minutes }] };
  }
  if (step.duration.by === 'dataSheet') return { minutes: 0, lines: [] };
  const computed = workContent(step.kind, { ...facts, crewSize: step.crew.size, pacePercent: 100 }, car.frame.norms);
  const percent = car.frame.book.estimates?.[step.kind] ?? 100;
  if (percent === 100 || computed.minutes === 0) return computed;
  const minutes = Math.max(1, Math.ceil((computed.minutes * percent) / 100));
  const line = { label: `the floor's records, ${percent} %`, minutes: minutes - computed.minutes };
  return { minutes, lines: [...computed.lines, line] };
}

function instancesOf(car: Car, step: RecipeStep, passes: number): StepInstance[] {
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

/** Work given up before it began is not part of the job any more. */
export function isWanted({ record }: StepInstance): boolean {
  return record === undefined || record.state !== 'abandoned' || record.pieces.length > 0;
}

/** Keys of a step and its repetitions that the floor has begun, in the order of their numbers. */
function repetitionsBegun(car: Car, step: RecipeStep): string[] {
  const number = (key: string) => Number(key.slice(step.key.length + 1) || 1);
  return [...car.record.work.keys()]
    .filter((key) => key === step.key || (key.startsWith(`${step.key}.`) && Number.isInteger(number(key))))
    .sort((a, b) => number(a) - number(b));
}
