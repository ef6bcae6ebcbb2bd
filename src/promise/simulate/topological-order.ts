import type { Arc } from './arcs.ts';

/**
 * Nodes in an order in which everything waited for comes first, otherwise by planned start and `rank` (A. B. Kahn,
 * "Topological sorting of large networks", CACM 5, 1962). Should arcs form a circle, its earliest node goes first, and the
 * arcs that then point backwards are the caller's to leave out.
 */
export function topologicalOrder(
  nodes: readonly number[],
  arcs: readonly Arc[],
  start: Int32Array,
  rank: Int32Array,
): number[] {
  const waiting = new Int32Array(start.length);
  const after = new Map<number, number[]>();
  for (const { from, to } of arcs) {
    waiting[to] = waiting[to]! + 1;
    const known = after.get(from);
    if (known === undefined) after.set(from, [to]);
    else known.push(to);
  }
  const earlier = (a: number, b: number) => start[a]! - start[b]! || rank[a]! - rank[b]!;
  const open = new Heap(earlier);
  const done = new Uint8Array(start.length);
  for (const node of nodes) if (waiting[node] === 0) open.push(node);
  const inOrder: number[] = [];
  const rest = [...nodes].sort(earlier);
  for (let next = 0; inOrder.length < nodes.length; ) {
    let node = open.pop();
    if (node === undefined) {
      while (done[rest[next]!] === 1) next++;
      node = rest[next]!;
    }
    if (done[node] === 1) continue;
    done[node] = 1;
    inOrder.push(node);
    for (const to of after.get(node) ?? []) {
      waiting[to] = waiting[to]! - 1;
      if (waiting[to] === 0 && done[to] === 0) open.push(to);
    }
  }
  return inOrder;
}

class Heap {
  readonly #items: number[] = [];
  readonly #compare: (a: number, b: number) => number;

  constructor(compare: (a: number, b: number) => number) {
    this.#compare = compare;
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
