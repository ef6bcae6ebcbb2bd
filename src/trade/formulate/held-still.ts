import type { RecipeLag } from '../model/recipe.ts';
import type { Car } from './car.ts';
import { type ByStep, byStep, instanceAt } from './order.ts';
import type { SettledWork } from './settle.ts';
import { hasBegun, type StepInstance } from './step-instance.ts';

/** Whether the recipe forbids to move the car now. */
export function isHeldStill(car: Car, certain: readonly StepInstance[], settled: SettledWork): boolean {
  const instances = byStep(certain);
  for (const { from, to } of car.recipe.stills) {
    const isToEnd = instanceAt(instances, to) !== undefined && !isPast(car, instances, to, settled);
    if (isToEnd && isPast(car, instances, from, settled)) return true;
  }
  return false;
}

/** Of work that is done again the first begins, and the last ends, a stillness. */
function isPast(car: Car, instances: ByStep, edge: RecipeLag['from'], settled: SettledWork): boolean {
  const instance = instanceAt(instances, edge);
  if (instance === undefined) return false;
  const known = settled.get(instance);
  return known === undefined ? edge.edge === 'start' && hasBegun(instance) : known[edge.edge] <= car.frame.now;
}
