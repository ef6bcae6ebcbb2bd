import { type PlanOrder, WAIT } from './arcs.ts';
import type { WindowBlock } from './window-blocks.ts';

/**
 * Lets what a window's end also waits for be known before its beginning is decided, wherever that makes no circle: it is looked at
 * before the head of the window's block.
 */
export function addLookFirst(blocks: readonly WindowBlock[], start: Int32Array, order: PlanOrder): void {
  const { first, next } = order.into;
  const known = order.count;
  const nodes = start.length;
  /** By node, the last block that holds it, is followed by it, or wants it looked at. */
  const inside = new Int32Array(nodes).fill(-1);
  const follows = new Int32Array(nodes).fill(-1);
  const wanted = new Int32Array(nodes).fill(-1);
  for (let k = 0; k < blocks.length; k++) {
    const { head, members } = blocks[k]!;
    inside[head] = k;
    let last = start[head]!;
    for (const member of members) {
      inside[member] = k;
      last = Math.max(last, start[member]!);
    }
    markReachable(head, { order, start, last }, follows, k);
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

/** What a plan has begun by the minute `last`. */
interface Until {
  readonly order: PlanOrder;
  /** Planned, by node. */
  readonly start: Int32Array;
  readonly last: number;
}

/** Marks what follows a node; nothing that is planned for later leads back to what a member of the block waits for. */
function markReachable(from: number, { order, start, last }: Until, mark: Int32Array, as: number): void {
  const { first, next } = order.outOf;
  mark[from] = as;
  const open = [from];
  for (let node = open.pop(); node !== undefined; node = open.pop()) {
    for (let a = first[node]!; a >= 0; a = next[a]!) {
      const after = order.to[a]!;
      if (mark[after] === as || start[after]! > last) continue;
      mark[after] = as;
      open.push(after);
    }
  }
}
