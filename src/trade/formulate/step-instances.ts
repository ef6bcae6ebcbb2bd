import type { OperationKey } from '../model/ids.ts';
import type { RecipeStep } from '../model/recipe.ts';
import { stepPresence } from '../recipe/steps-of.ts';
import { passesOn } from '../work-content/quantities.ts';
import { type Breakdown, workContent } from '../work-content/work-content.ts';
import type { WorkFacts } from '../work-content/work-facts.ts';
import type { Car } from './car.ts';
import type { WorkRecord } from './floor-record.ts';

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
function isWanted({ record }: StepInstance): boolean {
  return record === undefined || record.state !== 'abandoned' || record.pieces.length > 0;
}

/** Keys of a step and its repetitions that the floor has begun, in the order of their numbers. */
function repetitionsBegun(car: Car, step: RecipeStep): string[] {
  const number = (key: string) => Number(key.slice(step.key.length + 1) || 1);
  return [...car.record.work.keys()]
    .filter((key) => key === step.key || (key.startsWith(`${step.key}.`) && Number.isInteger(number(key))))
    .sort((a, b) => number(a) - number(b));
}

/** Most compounding passes that any panel gets. */
function compoundPasses(car: Car): number {
  const panels = Object.keys(car.facts.defects) as (keyof WorkFacts['defects'])[];
  return Math.max(0, ...panels.map((panel) => passesOn(panel, car.facts, car.frame.norms).compound));
}

/** One operation a pass; the k-th is done on the panels that need k passes. The last step of its kind takes what is left. */
function compoundInstances(car: Car, step: RecipeStep, passes: number, begun: readonly string[]): StepInstance[] {
  const steps = car.recipe.steps.filter(
    (one) => one.kind === 'compound' && one.presence.when !== 'remedy' && stepPresence(one, car.job) === 'yes',
  );
  const position = steps.indexOf(step);
  const last = position === steps.length - 1 ? passes : Math.min(passes, position + 1);
  const keys = new Map<string, number>();
  for (let pass = position + 1; position >= 0 && pass <= last; pass++) {
    const repetition = pass - position;
    keys.set(repetition === 1 ? step.key : `${step.key}.${repetition}`, pass);
  }
  for (const key of begun) if (!keys.has(key)) keys.set(key, Math.max(1, passes));
  return [...keys]
    .map(([key, pass]) => instanceOf(car, step, key, 'sequence', { facts: factsOfPass(car, pass) }))
    .filter(isWanted);
}

/** Facts under which the norm counts exactly the panels that get a k-th pass, once each. */
function factsOfPass(car: Car, pass: number): WorkFacts {
  const defects = { ...car.facts.defects };
  for (const panel of Object.keys(defects) as (keyof typeof defects)[]) {
    if (passesOn(panel, car.facts, car.frame.norms).compound < pass) defects[panel] = 0;
  }
  return { ...car.facts, defects, correctionPasses: 2 };
}

function inspectionInstances(car: Car, step: RecipeStep): StepInstance[] {
  const { failures } = car.record;
  if (stepPresence(step, car.job) !== 'yes') return [];
  const instances: StepInstance[] = [];
  const numbered = (key: string, k: number) => (k === 0 ? key : `${key}.${k + 1}`);
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

/** An inspection that failed has ended, whether or not somebody said so. */
function endedAt(record: WorkRecord | undefined, at: RecordedTime): WorkRecord {
  const before = (record?.pieces ?? []).filter(({ from }) => from <= at);
  const pieces = before.map((piece) => ({ ...piece, to: piece.to === null || piece.to > at ? at : piece.to }));
  const some = pieces.length > 0 ? pieces : [{ from: at, to: at, by: [] }];
  return { state: 'finished', pieces: some, handedTo: null };
}

type RecordedTime = WorkRecord['pieces'][number]['from'];

/** How rework is done where the recipe does not say: by one polisher, beside the inspection. */
function reworkStep(car: Car, inspection: RecipeStep): RecipeStep {
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
