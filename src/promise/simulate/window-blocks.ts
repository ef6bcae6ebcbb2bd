import type { PlanOrder, Window } from './arcs.ts';
import { Chains } from './chains.ts';
import { NodesBetween } from './nodes-between.ts';
import { hasBegun, type PlanNodes, PRESENT } from './plan-nodes.ts';

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

/**
 * One block for every operation still to begin that opens a window; windows the plan itself lets lapse open none.
 *
 * @param own what cars' own plans ask for, and nothing more yet.
 */
export function windowBlocks(nodes: PlanNodes, own: PlanOrder, rank: Int32Array): WindowBlock[] {
  const finder = new BlockFinder(nodes, own, rank);
  const blocks: WindowBlock[] = [];
  for (const head of finder.heads) blocks.push(finder.blockOf(head));
  return blocks;
}

class BlockFinder {
  /** Work that opens windows, in the order of its first window. */
  readonly heads: number[] = [];
  readonly #rank: Int32Array;
  readonly #between: NodesBetween;
  readonly #open: Window[] = [];
  /** Open windows by the node they begin at. */
  readonly #openAt: Chains;
  /** By node, the last block that it became a member of; blocks are known by their heads. */
  readonly #memberOf: Int32Array;

  constructor(nodes: PlanNodes, own: PlanOrder, rank: Int32Array) {
    this.#rank = rank;
    this.#between = new NodesBetween(nodes, own, rank);
    this.#openAt = new Chains(nodes.count);
    this.#memberOf = new Int32Array(nodes.count).fill(-1);
    for (const window of own.windows) {
      if (!isOpen(nodes, window)) continue;
      if (this.#openAt.first[window.from]! < 0) this.heads.push(window.from);
      this.#openAt.add(window.from);
      this.#open.push(window);
    }
  }

  blockOf(head: number): WindowBlock {
    const members: number[] = [];
    const windows: Window[] = [];
    const reached = [head];
    this.#memberOf[head] = head;
    for (let k = 0; k < reached.length && members.length < MOST_MEMBERS; k++) {
      const from = reached[k]!;
      for (let w = this.#openAt.first[from]!; w >= 0; w = this.#openAt.next[w]!) {
        const window = this.#open[w]!;
        windows.push(window);
        for (const between of this.#between.find(from, window.to)) {
          if (this.#memberOf[between] === head) continue;
          this.#memberOf[between] = head;
          members.push(between);
          reached.push(between);
        }
      }
    }
    return { head, members: this.#inOrder(members), windows };
  }

  /** Few are sorted: each is put where it belongs among those before it. */
  #inOrder(members: number[]): number[] {
    const rank = this.#rank;
    for (let k = 1; k < members.length; k++) {
      const member = members[k]!;
      let at = k;
      for (; at > 0 && rank[members[at - 1]!]! > rank[member]!; at--) members[at] = members[at - 1]!;
      members[at] = member;
    }
    return members;
  }
}

function isOpen(nodes: PlanNodes, { from, to, remedy }: Window): boolean {
  const { presence, schedule, problem } = nodes;
  if (from >= problem.operations.length || hasBegun(nodes, from)) return false;
  if (presence[from] !== PRESENT || presence[to] !== PRESENT) return false;
  for (const each of remedy) if (schedule.operations[each] == null) return true;
  return remedy.length === 0;
}
