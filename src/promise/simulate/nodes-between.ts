import type { PlanOrder } from './arcs.ts';
import { ON_DEMAND, type PlanNodes } from './plan-nodes.ts';

/** Finds everything on a way from one node to another; remedies that may be demanded are on none. */
export class NodesBetween {
  readonly #presence: Uint8Array;
  readonly #order: PlanOrder;
  readonly #rank: Int32Array;
  /** By node, the last search that came to it, and whether it leads to the node looked for. */
  readonly #search: Int32Array;
  readonly #leads: Uint8Array;
  #searches = 0;
  #visited: number[] = [];
  #to = -1;

  constructor({ presence, count }: PlanNodes, order: PlanOrder, rank: Int32Array) {
    this.#presence = presence;
    this.#order = order;
    this.#rank = rank;
    this.#search = new Int32Array(count);
    this.#leads = new Uint8Array(count);
  }

  /** The last node included, and first in the list; the first one left out. */
  find(from: number, to: number): readonly number[] {
    this.#searches++;
    this.#visited = [];
    this.#to = to;
    this.#search[to] = this.#searches;
    this.#leads[to] = 1;
    this.#leadsThere(from);
    const between = [to];
    for (const node of this.#visited) if (this.#leads[node] === 1 && node !== from) between.push(node);
    return between;
  }

  #leadsThere(node: number): boolean {
    if (this.#search[node] === this.#searches) return this.#leads[node] === 1;
    this.#search[node] = this.#searches;
    this.#leads[node] = 0;
    this.#visited.push(node);
    const { to, outOf } = this.#order;
    let found = false;
    for (let a = outOf.first[node]!; a >= 0; a = outOf.next[a]!) {
      const after = to[a]!;
      if (this.#presence[after] === ON_DEMAND || this.#rank[after]! > this.#rank[this.#to]!) continue;
      if (this.#leadsThere(after)) found = true;
    }
    this.#leads[node] = found ? 1 : 0;
    return found;
  }
}
