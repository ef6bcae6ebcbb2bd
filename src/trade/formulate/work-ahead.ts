import type { OperationKey } from '../model/ids.ts';
import type { Releases } from './book.ts';
import type { Car } from './car.ts';
import type { CoatingTimes } from './coating-times.ts';
import { type Item, itemsOf } from './items.ts';
import { type Itinerary, itineraryOf } from './itinerary.ts';
import { type Order, orderOf, passedOver, withoutPassed } from './order.ts';
import { type SettledWork, settle } from './settle.ts';
import type { StepInstance } from './step-instance.ts';
import { type CanBeDone, itemsLeft, windowsLeft } from './what-is-left.ts';
import { type Round, type Window, windowsOf } from './windows.ts';

/** What is known of a car's work before it is written down: what there is to do, in what order, where, and what is done. */
export interface WorkAhead {
  readonly items: readonly Item[];
  readonly order: Order;
  readonly windows: readonly Window[];
  readonly settled: SettledWork;
  readonly route: Itinerary;
}

/**
 * @param can whether a step can be done in some of the places at all: a way of curing for which there is no lamp is no
 * choice.
 * @throws CannotPlan when there is no place for a stay, or a branch of which nothing can be done.
 */
export function workAhead(car: Car, times: CoatingTimes, releases: Releases, can: CanBeDone): WorkAhead {
  noteUnknownWork(car);
  const { lags } = car.recipe;
  const all = itemsOf(car);
  const orderOfAll = orderOf(all, lags);
  const passed = passedOver(all, orderOfAll);
  const begun = withoutPassed(all, passed);
  const certain = stepsIn(begun);
  const open = choicesIn(begun);
  const orderOfBegun = passed.size === 0 ? orderOfAll : orderOf(begun, lags);
  const settled = settle(car, certain, orderOfBegun, passed, times);
  const mayLapse = {
    lost: releases.windowsOf?.has(car.job.id) ?? false,
    held: releases.keepsHeldWindows !== true,
  };
  const windows = windowsOf(car, orderOfBegun.bounds, settled, times, mayLapse);
  const work = {
    certain: [...certain, ...remediesIn(windows, 'present')],
    possible: [...open, ...remediesIn(windows, 'optional')],
  };
  const route = itineraryOf(car, work, settled);
  for (const instance of certain) if (route.leftBehind.has(instance)) giveUp(car, instance, settled);

  const items = itemsLeft(begun, route, can);
  return {
    items,
    order: open.length === 0 ? orderOfBegun : orderOf(items, lags),
    windows: windowsLeft(windows, items, route, settled),
    settled,
    route,
  };
}

function stepsIn(items: readonly Item[]): StepInstance[] {
  const instances: StepInstance[] = [];
  for (const item of items) if (item.kind === 'step') instances.push(item.instance);
  return instances;
}

function choicesIn(items: readonly Item[]): StepInstance[] {
  const instances: StepInstance[] = [];
  for (const item of items) {
    if (item.kind === 'branch') for (const steps of item.alternatives) instances.push(...steps);
  }
  return instances;
}

function remediesIn(windows: readonly Window[], presence: Round['presence']): StepInstance[] {
  const instances: StepInstance[] = [];
  for (const { rounds } of windows) {
    for (const round of rounds) if (round.presence === presence) instances.push(...round.instances);
  }
  return instances;
}

/** Work in a place the car has left for good counts as done, so that the rest can be planned. */
function giveUp(car: Car, instance: StepInstance, settled: SettledWork): void {
  const { axis, book } = car.frame;
  const at = axis.toMinute(car.record.visits.at(-1)?.from ?? book.now, 'floor');
  settled.set(instance, { start: at, end: at, by: [] });
  const text = `"${instance.step.label}" was not done before the car left the place for it; it is not planned any more.`;
  car.notices.push({ kind: 'passedOver', jobId: car.job.id, operation: instance.key, text });
}

function noteUnknownWork(car: Car): void {
  if (car.record.work.size === 0) return;
  const keys = new Set([...car.recipe.steps.map(({ key }) => key), 'move', 'rework']);
  for (const key of car.record.work.keys()) {
    if (keys.has(key.split('.')[0]!)) continue;
    const text = `Work on "${key}" is recorded, which is no step of recipe "${car.recipe.name}".`;
    car.notices.push({ kind: 'unknownOperation', jobId: car.job.id, operation: key as OperationKey, text });
  }
}
