import type { Interval } from '../../engine/problem/problem.ts';
import { modeOf, type PlanNodes } from './plan-nodes.ts';

/**
 * Hours outside of which an operation's place is closed, or somebody it needs is taken by something outside the plan: lists
 * of open intervals, all of which must hold.
 */
export class OpeningsOfWork {
  readonly #nodes: PlanNodes;
  /** By operation, the stay that it is done in or, for a move, leads to; -1 when there is none. */
  readonly #stay: Int32Array;

  constructor(nodes: PlanNodes) {
    const { operations, stays } = nodes.problem;
    this.#nodes = nodes;
    this.#stay = new Int32Array(operations.length).fill(-1);
    for (let s = stays.length - 1; s >= 0; s--) {
      const { move } = stays[s]!;
      if (move !== undefined) this.#stay[move] = s;
    }
    for (let o = 0; o < operations.length; o++) this.#stay[o] = operations[o]!.stay ?? this.#stay[o]!;
  }

  of(operation: number): readonly (readonly Interval[])[] {
    const { problem, schedule, mode } = this.#nodes;
    if (mode[operation]! < 0) return [];
    const openings: (readonly Interval[])[] = [];
    const place = schedule.stays[this.#stay[operation]!]?.place;
    const open = place === undefined ? undefined : problem.places[place]!.open;
    if (open !== undefined) openings.push(open);
    if (problem.takenResources.length === 0) return openings;
    for (const { resource, amount } of modeOf(this.#nodes, operation).uses) {
      const taken = amount > 0 ? this.#takenFrom(resource, amount) : [];
      if (taken.length > 0) openings.push(between(taken, problem.horizon));
    }
    return openings;
  }

  /** When too little of a resource is left for a use of so much. */
  #takenFrom(resource: number, amount: number): Interval[] {
    const { takenResources, resources } = this.#nodes.problem;
    const { capacity } = resources[resource]!;
    const taken: Interval[] = [];
    for (const each of takenResources) {
      if (each.resource === resource && each.amount + amount > capacity) taken.push(each);
    }
    return taken;
  }
}

/** What lies between intervals, up to the horizon. */
function between(taken: readonly Interval[], horizon: number): Interval[] {
  const open: Interval[] = [];
  let from = 0;
  for (const each of [...taken].sort(inTime)) {
    if (each.from > from) open.push({ from, to: each.from });
    from = Math.max(from, each.to);
  }
  if (from < horizon) open.push({ from, to: horizon });
  return open;
}

const inTime = (a: Interval, b: Interval): number => a.from - b.from;
