import type { RecipeStep } from '../model/recipe.ts';
import { stepPresence } from '../recipe/steps-of.ts';
import { passesOn } from '../work-content/quantities.ts';
import type { WorkFacts } from '../work-content/work-facts.ts';
import type { CarAtWork } from './car.ts';
import type { WorkRecord } from './floor-record.ts';
import { instanceOf, isWanted, type StepInstance } from './step-instance.ts';

/** Most compounding passes that any panel gets. */
export function compoundPasses(car: CarAtWork): number {
  let most = 0;
  for (const panel of panelsIn(car.facts.defects)) {
    most = Math.max(most, passesOn(panel, car.facts, car.frame.norms).compound);
  }
  return most;
}

function panelsIn(defects: WorkFacts['defects']): (keyof WorkFacts['defects'])[] {
  return Object.keys(defects) as (keyof WorkFacts['defects'])[];
}

/** One operation a pass; the k-th is done on the panels that need k passes. The last step of its kind takes what is left. */
export function compoundInstances(
  car: CarAtWork,
  step: RecipeStep,
  passes: number,
  begun: readonly string[],
): StepInstance[] {
  const steps = compoundSteps(car);
  const position = steps.indexOf(step);
  const last = position === steps.length - 1 ? passes : Math.min(passes, position + 1);
  const keys = new Map<string, number>();
  for (let pass = position + 1; position >= 0 && pass <= last; pass++) {
    const repetition = pass - position;
    keys.set(repetition === 1 ? step.key : `${step.key}.${repetition}`, pass);
  }
  for (const key of begun) if (!keys.has(key)) keys.set(key, Math.max(1, passes));
  const instances: StepInstance[] = [];
  for (const [key, pass] of keys) {
    const instance = instanceOf(car, step, key, 'sequence', { facts: factsOfPass(car, pass) });
    if (isWanted(instance)) instances.push(instance);
  }
  return instances;
}

/** The recipe's compounding that the car gets whatever happens. */
function compoundSteps({ recipe, job }: CarAtWork): RecipeStep[] {
  const steps: RecipeStep[] = [];
  for (const step of recipe.steps) {
    if (step.kind !== 'compound' || step.presence.when === 'remedy') continue;
    if (stepPresence(step, job) === 'yes') steps.push(step);
  }
  return steps;
}

/** Facts under which the norm counts exactly the panels that get a k-th pass, once each. */
function factsOfPass(car: CarAtWork, pass: number): WorkFacts {
  const defects = { ...car.facts.defects };
  for (const panel of panelsIn(defects)) {
    if (passesOn(panel, car.facts, car.frame.norms).compound < pass) defects[panel] = 0;
  }
  return { ...car.facts, defects, correctionPasses: 2 };
}

export function inspectionInstances(car: CarAtWork, step: RecipeStep): StepInstance[] {
  const { failures } = car.record;
  if (stepPresence(step, car.job) !== 'yes') return [];
  const instances: StepInstance[] = [];
  for (let k = 0; k <= failures.length; k++) {
    const inspection = instanceOf(car, step, numbered(step.key, k), 'sequence');
    const failure = failures[k];
    if (failure === undefined) {
      instances.push(inspection);
      break;
    }
    instances.push({ ...inspection, record: endedAt(inspection.record, failure.at) });
    const { reworkMinutes } = failure;
    const breakdown = {
      minutes: reworkMinutes,
      lines: [{ label: 'rework, as the inspection found', minutes: reworkMinutes }],
    };
    const rework = reworkStep(car, step);
    instances.push(instanceOf(car, rework, numbered(rework.key, k), 'sequence', { breakdown }));
  }
  return instances;
}

/** The key of the k-th repetition, from none on. */
function numbered(key: string, k: number): string {
  return k === 0 ? key : `${key}.${k + 1}`;
}

/** An inspection that failed has ended, whether or not somebody said so. */
function endedAt(record: WorkRecord | undefined, at: RecordedTime): WorkRecord {
  const before = (record?.pieces ?? []).filter(({ from }) => from <= at);
  const pieces = before.map((piece) => ({ ...piece, to: piece.to === null || piece.to > at ? at : piece.to }));
  const some = pieces.length > 0 ? pieces : [{ from: at, to: at, by: [] }];
  return { state: 'finished', pieces: some, handedTo: null };
}

type RecordedTime = WorkRecord['pieces'][number]['from'];

/** How rework is done where the recipe does not say: by one polisher, beside the inspection. */
function reworkStep(car: CarAtWork, inspection: RecipeStep): RecipeStep {
  const stated = car.recipe.steps.find(({ kind }) => kind === 'rework');
  if (stated !== undefined) return { ...stated, stay: inspection.stay };
  return {
    ...inspection,
    key: 'rework',
    kind: 'rework',
    label: 'Rework',
    attendance: { kind: 'handsOn' },
    crew: { size: 1, skill: 'polishing', level: 1, certified: false, leadPreferred: false },
    equipment: [],
    pausable: true,
    air: [],
    holdPoint: null,
  };
}
