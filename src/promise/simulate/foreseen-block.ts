import { FROM_END, TO_END } from './arcs.ts';
import type { CompiledPlan } from './compile-plan.ts';
import { PRESENT } from './plan-nodes.ts';
import type { WindowBlock } from './window-blocks.ts';

/** Where an arc into a member of a block comes from: the block itself, what is decided before its head, or what is decided after. */
export const INSIDE = 0;
export const EARLIER = 1;
export const LATER = 2;

/** What the members of a block wait for, sorted out once: it is looked through in each scenario. */
export class ForeseenBlock {
  readonly block: WindowBlock;
  /** By member: the earliest minutes it may start and end, whatever happens; planned times of what comes later are counted with. */
  readonly base: Int32Array;
  readonly leastEnd: Int32Array;
  /** Arcs into member m are arcFirst[m] up to arcFirst[m + 1]. */
  readonly arcFirst: Int32Array;
  readonly arcFrom: number[] = [];
  readonly arcLag: number[] = [];
  /** Bits `FROM_END` and `TO_END`. */
  readonly arcEdges: number[] = [];
  readonly arcComes: number[] = [];

  constructor(plan: CompiledPlan, block: WindowBlock) {
    const { members } = block;
    this.block = block;
    this.base = new Int32Array(members.length);
    this.leastEnd = new Int32Array(members.length);
    this.arcFirst = new Int32Array(members.length + 1);
    for (let m = 0; m < members.length; m++) {
      const node = members[m]!;
      this.base[m] = plan.base[node]!;
      for (let a = plan.arcFirst[node]!; a < plan.arcFirst[node + 1]!; a++) this.#add(plan, m, a);
      this.arcFirst[m + 1] = this.arcFrom.length;
    }
  }

  #add({ arcFrom, arcEdges, arcLag, position, nodes }: CompiledPlan, m: number, a: number): void {
    const { head, members } = this.block;
    const from = arcFrom[a]!;
    const edges = arcEdges[a]!;
    const lag = arcLag[a]!;
    const isInside = from === head || members.includes(from);
    const comes = isInside ? INSIDE : position[from]! < position[head]! ? EARLIER : LATER;
    if (comes === LATER && nodes.presence[from] === PRESENT) {
      const at = ((edges & FROM_END) !== 0 ? nodes.end[from]! : nodes.start[from]!) + lag;
      const known = (edges & TO_END) !== 0 ? this.leastEnd : this.base;
      known[m] = Math.max(known[m]!, at);
      return;
    }
    this.arcFrom.push(from);
    this.arcLag.push(lag);
    this.arcEdges.push(edges);
    this.arcComes.push(comes);
  }
}
