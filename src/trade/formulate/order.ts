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
  const stated = new Map(bounds.map((bound) => [`${bound.from.key} ${bound.to.key}`, bound]));
  const links: Link[] = [];
  /** Steps whose end nothing follows yet. */
  let open: StepInstance[] = [];

  const follow = (before: readonly StepInstance[], next: StepInstance): StepInstance[] => {
    const stillOpen = before.filter((earlier) => {
      const bound = stated.get(`${earlier.key} ${next.key}`);
      if (bound !== undefined) return !isEndToStart(bound);
      if (stated.has(`${next.key} ${earlier.key}`)) return true;
      links.push({ from: earlier, to: next });
      return false;
    });
    return [...stillOpen, next];
  };

  for (const item of items) {
    if (item.kind === 'step') {
      open = follow(open, item.instance);
      continue;
    }
    const before = open;
    const after = new Set<StepInstance>();
    for (const alternative of item.alternatives) {
      for (const left of alternative.reduce<StepInstance[]>(follow, before)) after.add(left);
    }
    open = [...after];
  }
  return { links, bounds };
}

function isEndToStart({ lag }: BoundLag): boolean {
  return lag.from.edge === 'end' && lag.to.edge === 'start';
}

/** All instances of the items, in order. */
export function instancesIn(items: readonly Item[]): StepInstance[] {
  return items.flatMap((item) => (item.kind === 'step' ? [item.instance] : item.alternatives.flat()));
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
  return lags.flatMap((lag) => {
    const from = instanceAt(instances, lag.from);
    const to = instanceAt(instances, lag.to);
    return from === undefined || to === undefined ? [] : [{ lag, from, to }];
  });
}

/**
 * Steps that the floor has passed over: nothing is recorded of them, and something that comes after their end has
 * begun. They count as done by the instant that began, which is given for each.
 */
export function passedOver(items: readonly Item[], order: Order): Map<StepInstance, Instant> {
  const before = new Map<StepInstance, StepInstance[]>();
  for (const { from, to } of [...order.links, ...order.bounds.filter(isEndToStart)]) {
    const known = before.get(to);
    if (known === undefined) before.set(to, [from]);
    else known.push(from);
  }
  const passed = new Map<StepInstance, Instant>();
  const begun = instancesIn(items)
    .flatMap((instance) => instance.record?.pieces.slice(0, 1).map(({ from }) => ({ instance, from })) ?? [])
    .sort((a, b) => a.from - b.from);
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

/** The items without some instances; a branch of which every alternative has lost something is gone. */
export function without(items: readonly Item[], gone: (instance: StepInstance) => boolean): Item[] {
  return items.flatMap((item): Item[] => {
    if (item.kind === 'step') return gone(item.instance) ? [] : [item];
    const alternatives = item.alternatives.filter((steps) => !steps.some(gone));
    return alternatives.every((steps) => steps.length === 0) ? [] : [{ ...item, alternatives }];
  });
}
