import type { RecipeLag } from '../model/recipe.ts';
import type { Instant } from '../model/time.ts';
import type { Item } from './items.ts';
import { hasBegun, type StepInstance } from './step-instance.ts';

/** `to` starts after `from` has ended. */
export interface Link {
  readonly from: StepInstance;
  readonly to: StepInstance;
}

/** A lag of the recipe between two steps as the car gets them. */
export interface BoundLag extends Link {
  readonly lag: RecipeLag;
}

export interface Order {
  readonly links: readonly Link[];
  readonly bounds: readonly BoundLag[];
}

/**
 * The order of a car's work: each step after the end of every step before it in the list, unless the recipe has a lag
 * between those two. Only the links that do not follow from others are made.
 */
export function orderOf(items: readonly Item[], lags: readonly RecipeLag[]): Order {
  const bounds = boundLags(items, lags);
  const stated: Stated = new Map();
  for (const bound of bounds) stated.set(`${bound.from.key} ${bound.to.key}`, bound);
  const links: Link[] = [];
  /** Steps whose end nothing follows yet. */
  let open: readonly StepInstance[] = [];
  for (const item of items) {
    if (item.kind === 'step') {
      open = follow(open, item.instance, stated, links);
      continue;
    }
    const after = new Set<StepInstance>();
    for (const alternative of item.alternatives) {
      let left = open;
      for (const instance of alternative) left = follow(left, instance, stated, links);
      for (const instance of left) after.add(instance);
    }
    open = [...after];
  }
  return { links, bounds };
}

/** Bound lags by the keys of both ends. */
type Stated = Map<string, BoundLag>;

/** Links one more step to those before it whose end nothing follows. @returns those whose end nothing follows then. */
function follow(before: readonly StepInstance[], next: StepInstance, stated: Stated, links: Link[]): StepInstance[] {
  const open: StepInstance[] = [];
  for (const earlier of before) {
    const bound = stated.get(`${earlier.key} ${next.key}`);
    if (bound !== undefined) {
      if (!isEndToStart(bound)) open.push(earlier);
    } else if (stated.has(`${next.key} ${earlier.key}`)) open.push(earlier);
    else links.push({ from: earlier, to: next });
  }
  open.push(next);
  return open;
}

function isEndToStart({ lag }: BoundLag): boolean {
  return lag.from.edge === 'end' && lag.to.edge === 'start';
}

/** All instances of the items, in order. */
export function instancesIn(items: readonly Item[]): StepInstance[] {
  const instances: StepInstance[] = [];
  for (const item of items) {
    if (item.kind === 'step') instances.push(item.instance);
    else for (const steps of item.alternatives) instances.push(...steps);
  }
  return instances;
}

/** Instances by the key of their step, in order. */
export type ByStep = ReadonlyMap<string, readonly StepInstance[]>;

export function byStep(instances: readonly StepInstance[]): ByStep {
  const grouped = new Map<string, StepInstance[]>();
  for (const instance of instances) {
    const known = grouped.get(instance.step.key);
    if (known === undefined) grouped.set(instance.step.key, [instance]);
    else known.push(instance);
  }
  return grouped;
}

/** The instance an edge of a repeated step means: its first start, its last end. */
export function instanceAt(instances: ByStep, { step, edge }: RecipeLag['from']): StepInstance | undefined {
  const same = instances.get(step);
  return edge === 'start' ? same?.[0] : same?.at(-1);
}

function boundLags(items: readonly Item[], lags: readonly RecipeLag[]): BoundLag[] {
  const instances = byStep(instancesIn(items));
  const bounds: BoundLag[] = [];
  for (const lag of lags) {
    const from = instanceAt(instances, lag.from);
    const to = instanceAt(instances, lag.to);
    if (from !== undefined && to !== undefined) bounds.push({ lag, from, to });
  }
  return bounds;
}

/**
 * Steps that the floor has passed over: nothing is recorded of them, and something that comes after their end has
 * begun. They count as done by the instant that began, which is given for each.
 */
export function passedOver(items: readonly Item[], order: Order): Map<StepInstance, Instant> {
  const passed = new Map<StepInstance, Instant>();
  const begun = beginnings(items);
  if (begun.length === 0) return passed;
  const before = endsAwaited(order);
  for (const { instance, from } of begun) {
    const walk = [instance];
    while (walk.length > 0) {
      for (const earlier of before.get(walk.pop()!) ?? []) {
        if (hasBegun(earlier) || passed.has(earlier)) continue;
        passed.set(earlier, from);
        walk.push(earlier);
      }
    }
  }
  return passed;
}

/** What the floor has begun, and when, the earliest first. */
function beginnings(items: readonly Item[]): Beginning[] {
  const begun: Beginning[] = [];
  for (const instance of instancesIn(items)) {
    const first = instance.record?.pieces[0];
    if (first !== undefined) begun.push({ instance, from: first.from });
  }
  return begun.sort(earlierFirst);
}

interface Beginning {
  readonly instance: StepInstance;
  readonly from: Instant;
}

function earlierFirst(a: Beginning, b: Beginning): number {
  return a.from - b.from;
}

/** Of each step, those whose end it waits for. */
function endsAwaited({ links, bounds }: Order): Map<StepInstance, StepInstance[]> {
  const before = new Map<StepInstance, StepInstance[]>();
  for (const link of links) note(before, link);
  for (const bound of bounds) if (isEndToStart(bound)) note(before, bound);
  return before;
}

function note(before: Map<StepInstance, StepInstance[]>, { from, to }: Link): void {
  const known = before.get(to);
  if (known === undefined) before.set(to, [from]);
  else known.push(from);
}

/** The items without the alternatives of which something was passed over; a branch that has none left is gone. */
export function withoutPassed(items: readonly Item[], passed: ReadonlyMap<StepInstance, unknown>): Item[] {
  const left: Item[] = [];
  for (const item of items) {
    if (item.kind === 'step') {
      left.push(item);
      continue;
    }
    const alternatives: (readonly StepInstance[])[] = [];
    let steps = 0;
    for (const alternative of item.alternatives) {
      if (hasAny(alternative, passed)) continue;
      alternatives.push(alternative);
      steps += alternative.length;
    }
    if (steps > 0) left.push({ ...item, alternatives });
  }
  return left;
}

function hasAny(instances: readonly StepInstance[], of: ReadonlyMap<StepInstance, unknown>): boolean {
  for (const instance of instances) if (of.has(instance)) return true;
  return false;
}
