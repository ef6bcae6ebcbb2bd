import type { OperationKey } from '../model/ids.ts';
import type { RecipeStep } from '../model/recipe.ts';
import { type Breakdown, workContent } from '../work-content/work-content.ts';
import type { WorkFacts } from '../work-content/work-facts.ts';
import type { CarAtWork } from './car.ts';
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

/** @returns the instance; `facts` and `minutes` stand in for the car's own and the norm's where given. */
export function instanceOf(
  car: CarAtWork,
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
function recordOf(car: CarAtWork, { kind }: RecipeStep, key: string): WorkRecord | undefined {
  const record = car.record.work.get(key);
  return kind === 'handover' && record?.state === 'abandoned' ? undefined : record;
}

export function hasBegun({ record }: StepInstance): boolean {
  return record !== undefined && record.pieces.length > 0;
}

/** Work given up before it began is not part of the job any more. */
export function isWanted({ record }: StepInstance): boolean {
  return record === undefined || record.state !== 'abandoned' || record.pieces.length > 0;
}

function breakdownOf(car: CarAtWork, step: RecipeStep, facts: WorkFacts): Breakdown {
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
