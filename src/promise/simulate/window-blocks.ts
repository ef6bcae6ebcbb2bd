import type { Arc, Window } from './arcs.ts';
import { ON_DEMAND, type PlanNodes, PRESENT } from './plan-nodes.ts';

/**
 * Work that is not begun before what its windows lead to can follow in time: the wipe waits for the coater who is still
 * elsewhere, and is not begun an hour before closing.
 */
export interface WindowBlock {
  readonly head: number;
  /** What lies between the head and the ends of its windows, in the order of the plan; the head is not among them. */
  readonly members: readonly number[];
  readonly windows: readonly Window[];
}

/** Larger blocks are cut off: looking further ahead than this many steps decides nothing on a floor. */
const MOST_MEMBERS = 24;

/** One block for every operation still to begin that opens a window; windows the plan itself lets lapse open none. */
export function windowBlocks(
  nodes: PlanNodes,
  ownArcs: readonly Arc[],
  windows: readonly Window[],
  rank: Int32Array,
): WindowBlock[] {
  const next = new Map<number, number[]>();
  for (const { from, to } of ownArcs) {
    if (nodes.presence[from] === ON_DEMAND || nodes.presence[to] === ON_DEMAND) continue;
    const known = next.get(from);
    if (known === undefined) next.set(from, [to]);
    else known.push(to);
  }
  const kept = new Map<number, Window[]>();
  for (const window of windows) {
    if (!isOpen(nodes, window)) continue;
    const known = kept.get(window.from);
    if (known === undefined) kept.set(window.from, [window]);
    else known.push(window);
  }
  return [...kept.keys()].map((head) => blockOf(head, kept, next, rank));
}

function isOpen({ presence, settled, underWay, schedule, problem }: PlanNodes, { from, to, remedy }: Window): boolean {
  if (from >= problem.operations.length || settled[from] === 1 || underWay[from] === 1) return false;
  if (presence[from] !== PRESENT || presence[to] !== PRESENT) return false;
  return remedy.length === 0 || remedy.some((each) => schedule.operations[each] == null);
}

function blockOf(
  head: number,
  kept: ReadonlyMap<number, readonly Window[]>,
  next: ReadonlyMap<number, readonly number[]>,
  rank: Int32Array,
): WindowBlock {
  const members = new Set<number>();
  const windows: Window[] = [];
  const open = [head];
  while (open.length > 0 && members.size < MOST_MEMBERS) {
    const from = open.shift()!;
    for (const window of kept.get(from) ?? []) {
      windows.push(window);
      for (const between of nodesBetween(from, window.to, next, rank)) {
        if (between === head || members.has(between)) continue;
        members.add(between);
        open.push(between);
      }
    }
  }
  return { head, members: [...members].sort((a, b) => rank[a]! - rank[b]!), windows };
}

/** Everything on a way from one node to another, the last one included. */
function nodesBetween(
  from: number,
  to: number,
  next: ReadonlyMap<number, readonly number[]>,
  rank: Int32Array,
): Set<number> {
  const leads = new Map<number, boolean>([[to, true]]);
  const leadsTo = (node: number): boolean => {
    const known = leads.get(node);
    if (known !== undefined) return known;
    leads.set(node, false);
    let found = false;
    for (const after of next.get(node) ?? []) if (rank[after]! <= rank[to]! && leadsTo(after)) found = true;
    leads.set(node, found);
    return found;
  };
  leadsTo(from);
  const between = new Set<number>([to]);
  for (const [node, found] of leads) if (found && node !== from) between.add(node);
  return between;
}

/**
 * Lets what a window's end also waits for be known before its beginning is decided, wherever that makes no circle: pairs
 * of nodes, the first to be looked at before the second.
 */
export function lookFirst(blocks: readonly WindowBlock[], arcs: readonly Arc[], nodes: number): [number, number][] {
  const after: number[][] = Array.from({ length: nodes }, () => []);
  const before: number[][] = Array.from({ length: nodes }, () => []);
  for (const { from, to } of arcs) {
    after[from]!.push(to);
    before[to]!.push(from);
  }
  const pairs: [number, number][] = [];
  /** By node, the last block that holds it, is followed by it, or wants it looked at. */
  const inside = new Int32Array(nodes).fill(-1);
  const follows = new Int32Array(nodes).fill(-1);
  const wanted = new Int32Array(nodes).fill(-1);
  for (const [k, { head, members }] of blocks.entries()) {
    inside[head] = k;
    for (const member of members) inside[member] = k;
    markReachable(head, after, follows, k);
    for (const member of members) {
      for (const node of before[member]!) {
        if (wanted[node] === k) continue;
        wanted[node] = k;
        if (inside[node] === k || follows[node] === k) continue;
        pairs.push([node, head]);
        after[node]!.push(head);
      }
    }
  }
  return pairs;
}

function markReachable(from: number, after: readonly (readonly number[])[], mark: Int32Array, as: number): void {
  mark[from] = as;
  const open = [from];
  for (let node = open.pop(); node !== undefined; node = open.pop()) {
    for (const next of after[node]!) {
      if (mark[next] === as) continue;
      mark[next] = as;
      open.push(next);
    }
  }
}
