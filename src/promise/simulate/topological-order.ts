import type { PlanOrder } from './arcs.ts';

/**
 * Nodes in an order in which everything waited for comes first, otherwise by planned start and `rank` (A. B. Kahn,
 * "Topological sorting of large networks", CACM 5, 1962). Should arcs form a circle, its earliest node goes first, and the
 * arcs that then point backwards are the caller's to leave out.
 */
export function topologicalOrder(
  nodes: readonly number[],
  order: PlanOrder,
  start: Int32Array,
  rank: Int32Array,
): number[] {
  const waiting = new Int32Array(start.length);
  for (let a = 0; a < order.count; a++) waiting[order.to[a]!]!++;
  const open = new EarliestFirst(start, rank);
  const done = new Uint8Array(start.length);
  for (const node of nodes) if (waiting[node] === 0) open.push(node);
  const inOrder: number[] = [];
  const { first, next } = order.outOf;
  while (inOrder.length < nodes.length) {
    const node = open.pop() ?? open.earliestOf(nodes, done);
    if (done[node] === 1) continue;
    done[node] = 1;
    inOrder.push(node);
    for (let a = first[node]!; a >= 0; a = next[a]!) {
      const to = order.to[a]!;
      waiting[to]!--;
      if (waiting[to] === 0 && done[to] === 0) open.push(to);
    }
  }
  return inOrder;
}

/** A heap of nodes, the one that is planned earliest on top. */
class EarliestFirst {
  readonly #start: Int32Array;
  readonly #rank: Int32Array;
  readonly #items: number[] = [];

  constructor(start: Int32Array, rank: Int32Array) {
    this.#start = start;
    this.#rank = rank;
  }

  #compare(a: number, b: number): number {
    return this.#start[a]! - this.#start[b]! || this.#rank[a]! - this.#rank[b]!;
  }

  /** Among all that are not done, one of which there is. */
  earliestOf(nodes: readonly number[], done: Uint8Array): number {
    let earliest = -1;
    for (const node of nodes) {
      if (done[node] === 0 && (earliest < 0 || this.#compare(node, earliest) < 0)) earliest = node;
    }
    return earliest;
  }

  push(item: number): void {
    const items = this.#items;
    let k = items.length;
    items.push(item);
    while (k > 0) {
      const parent = (k - 1) >> 1;
      if (this.#compare(items[parent]!, item) <= 0) break;
      items[k] = items[parent]!;
      k = parent;
    }
    items[k] = item;
  }

  pop(): number | undefined {
    const items = this.#items;
    const top = items[0];
    const last = items.pop();
    if (last === undefined || items.length === 0) return top;
    let k = 0;
    for (;;) {
      let child = 2 * k + 1;
      if (child >= items.length) break;
      if (child + 1 < items.length && this.#compare(items[child + 1]!, items[child]!) < 0) child++;
      if (this.#compare(items[child]!, last) >= 0) break;
      items[k] = items[child]!;
      k = child;
    }
    items[k] = last;
    return top;
  }
}
