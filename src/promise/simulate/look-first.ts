import { type PlanOrder, WAIT } from './arcs.ts';
import type { WindowBlock } from './window-blocks.ts';

/**
 * Lets what a window's end also waits for be known before its beginning is decided, wherever that makes no circle: it is looked at
 * before the head of the window's block.
 */
export function addLookFirst(blocks: readonly WindowBlock[], nodes: number, order: PlanOrder): void {
  const { first, next } = order.into;
  const known = order.count;
  /** By node, the last block that holds it, is followed by it, or wants it looked at. */
  const inside = new Int32Array(nodes).fill(-1);
  const follows = new Int32Array(nodes).fill(-1);
  const wanted = new Int32Array(nodes).fill(-1);
  for (let k = 0; k < blocks.length; k++) {
    const { head, members } = blocks[k]!;
    inside[head] = k;
    for (const member of members) inside[member] = k;
    markReachable(head, order, follows, k);
    for (const member of members) {
      for (let a = first[member]!; a >= 0 && a < known; a = next[a]!) {
        const node = order.from[a]!;
        if (wanted[node] === k) continue;
        wanted[node] = k;
        if (inside[node] !== k && follows[node] !== k) order.after(node, head, WAIT.order);
      }
    }
  }
}

function markReachable(from: number, order: PlanOrder, mark: Int32Array, as: number): void {
  const { first, next } = order.outOf;
  mark[from] = as;
  const open = [from];
  for (let node = open.pop(); node !== undefined; node = open.pop()) {
    for (let a = first[node]!; a >= 0; a = next[a]!) {
      const after = order.to[a]!;
      if (mark[after] === as) continue;
      mark[after] = as;
      open.push(after);
    }
  }
}
