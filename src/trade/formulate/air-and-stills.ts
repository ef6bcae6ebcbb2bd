import type { AirSpan } from '../../engine/problem/problem.ts';
import type { Car } from './car.ts';
import { airLabelIndex } from './frame.ts';
import type { JobWork } from './job-work.ts';
import { byStep, instanceAt, instancesIn } from './order.ts';
import type { ProblemDraft } from './problem-draft.ts';
import type { StepInstance } from './step-instance.ts';

/** Writes what a job's work does to the air: of each operation while it lasts, and of the recipe's longer spans. */
export function writeAir(car: Car, work: JobWork, draft: ProblemDraft): void {
  for (const [instance, { first, last }] of work.written) {
    const stay = work.stayOf(instance);
    if (stay === undefined) continue;
    for (const label of instance.step.air) {
      for (const operation of first === last ? [first] : [first, last]) {
        draft.airSpans.push({
          label: airLabelIndex(label),
          stay,
          from: { operation, edge: 'start' },
          to: { operation, edge: 'end' },
        });
      }
    }
  }
  const instances = instancesIn(work.items);
  const steps = byStep(instances);
  for (const span of car.recipe.airSpans) {
    const from = instanceAt(steps, span.from);
    const to = instanceAt(steps, span.to);
    if (from === undefined || to === undefined) continue;
    const label = airLabelIndex(span.label);
    const end = edgeOf(work, to, span.to.edge);
    const [begun, ended] = [work.stayOf(from), work.stayOf(to)];
    if (begun !== undefined)
      draft.airSpans.push({ label, stay: begun, from: edgeOf(work, from, span.from.edge), to: end });
    if (ended === undefined || ended === begun) continue;
    // The car takes its open coating along: in the later place the span begins with the first work there.
    const there = firstIn(ended, instances, work);
    if (there !== undefined) draft.airSpans.push({ label, stay: ended, from: edgeOf(work, there, 'start'), to: end });
  }
}

function firstIn(stay: number, instances: readonly StepInstance[], work: JobWork): StepInstance | undefined {
  for (const instance of instances) if (work.stayOf(instance) === stay) return instance;
  return undefined;
}

/** Writes from when to when the recipe forbids to move the car. */
export function writeStills(car: Car, work: JobWork, draft: ProblemDraft): void {
  const steps = byStep(instancesIn(work.items));
  for (const still of car.recipe.stills) {
    const from = instanceAt(steps, still.from);
    const to = instanceAt(steps, still.to);
    if (from === undefined || to === undefined) continue;
    draft.stills.push({
      job: car.index,
      from: edgeOf(work, from, still.from.edge),
      to: edgeOf(work, to, still.to.edge),
    });
  }
}

function edgeOf(work: JobWork, instance: StepInstance, edge: 'start' | 'end'): AirSpan['from'] {
  const { first, last } = work.written.get(instance)!;
  return { operation: edge === 'start' ? first : last, edge };
}
