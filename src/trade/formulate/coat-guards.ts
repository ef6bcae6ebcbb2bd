import type { Lag } from '../../engine/problem/problem.ts';
import type { RecipeLag, RecipeStep, WorkKind } from '../model/recipe.ts';
import type { Car } from './car.ts';
import type { Item } from './items.ts';
import type { JobWork } from './job-work.ts';
import type { JobWriting } from './job-writer.ts';
import { instancesIn } from './order.ts';
import { edgeMinute } from './settle.ts';
import type { StepInstance } from './step-instance.ts';
import { laying } from './ways.ts';
import type { Window } from './windows.ts';

const wetting: ReadonlySet<WorkKind> = new Set([
  'wheels',
  'mineralRemover',
  'ironTarRemover',
  'foamWash',
  'contactWash',
  'clay',
  'stripWash',
  'maintenanceWash',
]);

/**
 * Ensures what holds of every coating, whatever the recipe says: no washing before it is water-safe, and no handover
 * before it is release-safe by its data sheet. Where lamps may shorten the cure, the data sheet's time binds the other ways
 * of curing.
 */
export function guardCoats(car: Car, work: JobWork, writing: JobWriting): void {
  const sequence = instancesIn(work.items);
  const all = withRemedies(sequence, work.windows);
  for (const coat of sequence) {
    if (!laying.has(coat.step.kind) || coat.step.coatingId === null) continue;
    const later = laterThan(coat, all, car.recipe.steps);
    for (const wash of later) {
      if (!wetting.has(wash.step.kind)) continue;
      guard(car, work, writing, coat, { operation: work.written.get(wash)!.first, edge: 'start' }, 'waterSafe');
    }
    for (const to of releasedBy(car, coat, later, work)) guard(car, work, writing, coat, to, 'releaseSafe');
  }
}

function withRemedies(sequence: readonly StepInstance[], windows: readonly Window[]): StepInstance[] {
  const all = [...sequence];
  for (const { rounds } of windows) for (const { instances } of rounds) all.push(...instances);
  return all;
}

/** What the recipe has after a coat. */
function laterThan(
  coat: StepInstance,
  instances: readonly StepInstance[],
  steps: readonly RecipeStep[],
): StepInstance[] {
  const position = steps.indexOf(coat.step);
  const later: StepInstance[] = [];
  for (const instance of instances) if (steps.indexOf(instance.step) > position) later.push(instance);
  return later;
}

/** Has an edge wait until a coat is safe for it; of a fact nothing is demanded. */
function guard(
  car: Car,
  work: JobWork,
  { draft, times }: JobWriting,
  coat: StepInstance,
  to: Lag['to'],
  item: 'waterSafe' | 'releaseSafe',
): void {
  if (draft.operations[to.operation]!.fixed?.by === 'fact') return;
  const laid = edgeMinute(car, coat, 'end', work.settled);
  draft.lags.push({
    from: { operation: work.written.get(coat)!.last, edge: 'end' },
    to,
    min: times.minutes(car.coating(coat.step.coatingId!), item, work.zonesFrom(coat), 'longest', laid),
    guards: item === 'waterSafe' ? 'water-safe' : 'release-safe',
  });
}

/** What must wait for a coat to be release-safe; nothing when the recipe has seen to it. */
function releasedBy(car: Car, coat: StepInstance, later: readonly StepInstance[], work: JobWork): Lag['to'][] {
  if (isSeenTo(coat, car.recipe.lags)) return [];
  const lamps = lampBranch(work.items);
  const paint = coat.step.kind === 'coatLayer';
  if (paint && lamps !== undefined) return endsWithoutLamp(lamps, work);
  if (paint && later.some(isLampCure)) return [];
  const handover = later.find(isHandover);
  return handover === undefined ? [] : [{ operation: work.written.get(handover)!.first, edge: 'start' }];
}

/** Whether the recipe itself has something wait until a coat is release-safe. */
function isSeenTo(coat: StepInstance, lags: readonly RecipeLag[]): boolean {
  for (const { from, min } of lags) {
    if (from.step === coat.step.key && min.by === 'dataSheet' && min.item === 'releaseSafe') return true;
  }
  return false;
}

type OpenBranch = Extract<Item, { kind: 'branch' }>;

/** The choice, if it is still open, of which some way is a cure by lamp. */
function lampBranch(items: readonly Item[]): OpenBranch | undefined {
  for (const item of items) {
    if (item.kind !== 'branch') continue;
    for (const steps of item.alternatives) if (steps.some(isLampCure)) return item;
  }
  return undefined;
}

/** The ends of those ways of a choice that are without a lamp. */
function endsWithoutLamp({ alternatives }: OpenBranch, { written }: JobWork): Lag['to'][] {
  const ends: Lag['to'][] = [];
  for (const steps of alternatives) {
    if (steps.length === 0 || steps.some(isLampCure)) continue;
    ends.push({ operation: written.get(steps.at(-1)!)!.last, edge: 'end' });
  }
  return ends;
}

function isLampCure({ step }: StepInstance): boolean {
  return step.kind === 'lampCure';
}

function isHandover({ step }: StepInstance): boolean {
  return step.kind === 'handover';
}
