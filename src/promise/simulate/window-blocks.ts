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
export function lookFirst(blocks: readonly WindowBlock[], arcs: readonly Arc[]): [number, number][] {
  const after = new Map<number, number[]>();
  const before = new Map<number, number[]>();
  const link = (from: number, to: number) => {
    after.set(from, [...(after.get(from) ?? []), to]);
  };
  for (const { from, to } of arcs) {
    link(from, to);
    before.set(to, [...(before.get(to) ?? []), from]);
  }
  const pairs: [number, number][] = [];
  for (const { head, members } of blocks) {
    const inside = new Set([head, ...members]);
    const follows = reachable(head, after);
    const wanted = new Set(members.flatMap((member) => before.get(member) ?? []));
    for (const node of wanted) {
      if (inside.has(node) || follows.has(node)) continue;
      pairs.push([node, head]);
      link(node, head);
    }
  }
  return pairs;
}

function reachable(from: number, after: ReadonlyMap<number, readonly number[]>): Set<number> {
  const seen = new Set<number>([from]);
  const open = [from];
  for (let node = open.pop(); node !== undefined; node = open.pop()) {
    for (const next of after.get(node) ?? []) {
      if (seen.has(next)) continue;
      seen.add(next);
      open.push(next);
    }
  }
  return seen;
}
