import type { Lag } from '../../engine/problem/problem.ts';
import type { WorkKind } from '../model/recipe.ts';
import type { Car } from './car.ts';
import type { JobWork, JobWriting } from './job-writer.ts';
import { edgeMinute } from './settle.ts';
import type { StepInstance } from './step-instance.ts';
import { laying } from './ways.ts';

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
export function guardCoats(car: Car, work: JobWork, { draft, times }: JobWriting): void {
  const sequence = work.items.flatMap((item) => (item.kind === 'step' ? [item.instance] : item.alternatives.flat()));
  const remedies = work.windows.flatMap(({ rounds }) => rounds.flatMap(({ instances }) => instances));
  const position = (instance: StepInstance) => car.recipe.steps.indexOf(instance.step);
  for (const coat of sequence.filter(({ step }) => laying.has(step.kind) && step.coatingId !== null)) {
    const later = [...sequence, ...remedies].filter((other) => position(other) > position(coat));
    const laid = edgeMinute(car, coat, 'end', work.settled);
    const minutes = (item: 'waterSafe' | 'releaseSafe') =>
      times.minutes(car.coating(coat.step.coatingId!), item, work.zonesFrom(coat), 'longest', laid);
    const guard = (to: Lag['to'], item: 'waterSafe' | 'releaseSafe') => {
      if (draft.operations[to.operation]!.fixed?.by === 'fact') return;
      const from = { operation: work.written.get(coat)!.last, edge: 'end' as const };
      draft.lags.push({ from, to, min: minutes(item), guards: item === 'waterSafe' ? 'water-safe' : 'release-safe' });
    };
    for (const wash of later.filter(({ step }) => wetting.has(step.kind))) {
      guard({ operation: work.written.get(wash)!.first, edge: 'start' }, 'waterSafe');
    }
    for (const to of releasedBy(car, coat, later, work)) guard(to, 'releaseSafe');
  }
}

/** What must wait for a coat to be release-safe; nothing when the recipe has seen to it. */
function releasedBy(car: Car, coat: StepInstance, later: readonly StepInstance[], work: JobWork): Lag['to'][] {
  const seenTo = car.recipe.lags.some(
    ({ from, min }) => from.step === coat.step.key && min.by === 'dataSheet' && min.item === 'releaseSafe',
  );
  if (seenTo) return [];
  const lamps = work.items.find(
    (item) => item.kind === 'branch' && item.alternatives.flat().some(({ step }) => step.kind === 'lampCure'),
  );
  const lampChosen = lamps === undefined && later.some(({ step }) => step.kind === 'lampCure');
  const paint = coat.step.kind === 'coatLayer';
  if (paint && lampChosen) return [];
  if (paint && lamps?.kind === 'branch') {
    return lamps.alternatives
      .filter((steps) => steps.length > 0 && !steps.some(({ step }) => step.kind === 'lampCure'))
      .map((steps) => ({ operation: work.written.get(steps.at(-1)!)!.last, edge: 'end' }));
  }
  const handover = later.find(({ step }) => step.kind === 'handover');
  return handover === undefined ? [] : [{ operation: work.written.get(handover)!.first, edge: 'start' }];
}
