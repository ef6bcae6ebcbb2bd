import type { OperationKey } from '../model/ids.ts';
import type { Releases } from './book.ts';
import { CannotPlan, type Car } from './car.ts';
import type { CoatingTimes } from './coating-times.ts';
import { type Item, itemsOf } from './items.ts';
import { type Itinerary, itineraryOf } from './itinerary.ts';
import { instancesIn, type Order, orderOf, passedOver, without } from './order.ts';
import { nowhere } from './placing.ts';
import { type SettledWork, settle } from './settle.ts';
import type { StepInstance } from './step-instance.ts';
import { type Window, windowsOf } from './windows.ts';

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
export function workAhead(
  car: Car,
  times: CoatingTimes,
  releases: Releases,
  can: (instance: StepInstance, places: readonly number[]) => boolean,
): WorkAhead {
  noteUnknownWork(car);
  const { lags } = car.recipe;
  const all = itemsOf(car);
  const orderOfAll = orderOf(all, lags);
  const passed = passedOver(all, orderOfAll);
  const begun = without(all, (instance) => instance.role === 'branch' && passed.has(instance));
  const certain = begun.flatMap((item) => (item.kind === 'step' ? [item.instance] : []));
  const open = begun.flatMap((item) => (item.kind === 'branch' ? item.alternatives.flat() : []));
  const orderOfBegun = passed.size === 0 ? orderOfAll : orderOf(begun, lags);
  const settled = settle(car, certain, orderOfBegun, passed, times);
  const mayLapse = {
    lost: releases.windowsOf?.has(car.job.id) ?? false,
    held: releases.keepsHeldWindows !== true,
  };
  const windows = windowsOf(car, orderOfBegun.bounds, settled, times, mayLapse);
  const remedies = (presence: 'present' | 'optional') =>
    windows.flatMap(({ rounds }) => rounds.flatMap((round) => (round.presence === presence ? round.instances : [])));
  const work = {
    certain: [...certain, ...remedies('present')],
    possible: [...open, ...remedies('optional')],
  };
  const route = itineraryOf(car, work, settled);
  for (const instance of certain) if (route.leftBehind.has(instance)) giveUp(car, instance, settled);

  const placesOf = (instance: StepInstance) => route.stays[route.stayOf(instance) ?? -1]?.places ?? nowhere;
  const canStill = (instance: StepInstance) => !route.leftBehind.has(instance) && can(instance, placesOf(instance));
  const items = begun.flatMap((item) => (item.kind === 'step' ? [item] : openBranch(item, canStill)));
  const left = new Set(instancesIn(items));
  return {
    items,
    order: open.length === 0 ? orderOfBegun : orderOf(items, lags),
    windows: windows
      .filter(({ bound }) => left.has(bound.from) && left.has(bound.to))
      .map((window) => withoutLost(window, route, settled)),
    settled,
    route,
  };
}

/** What is left of a choice; a choice of one is none. */
function openBranch(item: Extract<Item, { kind: 'branch' }>, can: (instance: StepInstance) => boolean): Item[] {
  const alternatives = item.alternatives.filter((steps) => steps.every(can));
  if (alternatives.length === 0) {
    const names = item.alternatives.flat().map(({ step }) => `"${step.label}"`);
    throw new CannotPlan('recipeId', `Of "${item.name}" nothing can be done: ${names.join(', ')}.`);
  }
  if (alternatives.length > 1) return [{ ...item, alternatives }];
  return alternatives[0]!.map((instance) => ({ kind: 'step', instance }));
}

/** A round of which a step can no longer be done is given up, and the maximum with it. */
function withoutLost(window: Window, route: Itinerary, settled: SettledWork): Window {
  const lost = (instance: StepInstance) => route.leftBehind.has(instance) && !settled.has(instance);
  const rounds = window.rounds.filter(({ instances }) => !instances.some(lost));
  return rounds.length === window.rounds.length ? window : { ...window, rounds, given: true };
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
