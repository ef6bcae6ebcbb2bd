import { CannotPlan } from './car.ts';
import type { Item } from './items.ts';
import type { Itinerary } from './itinerary.ts';
import { instancesIn } from './order.ts';
import { nowhere } from './placing.ts';
import type { SettledWork } from './settle.ts';
import type { StepInstance } from './step-instance.ts';
import type { Round, Window } from './windows.ts';

/** Whether a step can be done in some of the places at all. */
export type CanBeDone = (instance: StepInstance, places: readonly number[]) => boolean;

/** The work without the ways of a choice that can not be gone any more. @throws CannotPlan when none can. */
export function itemsLeft(items: readonly Item[], route: Itinerary, can: CanBeDone): Item[] {
  const left: Item[] = [];
  for (const item of items) {
    if (item.kind === 'step') left.push(item);
    else left.push(...choiceLeft(item, route, can));
  }
  return left;
}

/** What is left of a choice; a choice of one is none. */
function choiceLeft(item: Extract<Item, { kind: 'branch' }>, route: Itinerary, can: CanBeDone): Item[] {
  const alternatives: (readonly StepInstance[])[] = [];
  for (const steps of item.alternatives) if (canAllBeDone(steps, route, can)) alternatives.push(steps);
  if (alternatives.length === 0) {
    const names = item.alternatives.flat().map(({ step }) => `"${step.label}"`);
    throw new CannotPlan('recipeId', `Of "${item.name}" nothing can be done: ${names.join(', ')}.`);
  }
  if (alternatives.length > 1) return [{ ...item, alternatives }];
  return alternatives[0]!.map((instance) => ({ kind: 'step', instance }));
}

function canAllBeDone(steps: readonly StepInstance[], route: Itinerary, can: CanBeDone): boolean {
  for (const instance of steps) {
    const places = route.stays[route.stayOf(instance) ?? -1]?.places ?? nowhere;
    if (route.leftBehind.has(instance) || !can(instance, places)) return false;
  }
  return true;
}

/** The windows between what is left. */
export function windowsLeft(
  windows: readonly Window[],
  items: readonly Item[],
  route: Itinerary,
  settled: SettledWork,
): Window[] {
  const instances = new Set(instancesIn(items));
  const left: Window[] = [];
  for (const window of windows) {
    const { from, to } = window.bound;
    if (instances.has(from) && instances.has(to)) left.push(withoutLost(window, route, settled));
  }
  return left;
}

/** A round of which a step can no longer be done is given up, and the maximum with it. */
function withoutLost(window: Window, route: Itinerary, settled: SettledWork): Window {
  const rounds: Round[] = [];
  for (const round of window.rounds) if (!isLost(round, route, settled)) rounds.push(round);
  return rounds.length === window.rounds.length ? window : { ...window, rounds, given: true };
}

function isLost({ instances }: Round, route: Itinerary, settled: SettledWork): boolean {
  for (const instance of instances) if (route.leftBehind.has(instance) && !settled.has(instance)) return true;
  return false;
}
