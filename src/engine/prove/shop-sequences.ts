import type { MachineShop } from './machine-shop.ts';

/**
 * A shop's schedule as sequences on machines: chosen modes, who follows whom, and from them the longest paths to each
 * operation (head) and from its end (tail). References: Roy and Sussmann 1964 (disjunctive graph); Mastrolilli and
 * Gambardella, Journal of Scheduling 3, 2000 (heads and tails with one operation taken out).
 */
export class ShopSequences {
  readonly shop: MachineShop;
  /** Chosen mode, as an index into the shop's modes. */
  readonly chosen: Int32Array;
  readonly machinePrev: Int32Array;
  readonly machineNext: Int32Array;
  readonly firstOn: Int32Array;
  readonly head: Int32Array;
  readonly tail: Int32Array;
  /** Heads and tails with one operation taken out. */
  readonly headWithout: Int32Array;
  readonly tailWithout: Int32Array;
  private readonly n: number;
  private readonly topological: Int32Array;
  private readonly place: Int32Array;
  private readonly indegree: Int32Array;

  constructor(shop: MachineShop) {
    const n = shop.operations;
    this.shop = shop;
    this.n = n;
    this.chosen = new Int32Array(n);
    this.machinePrev = new Int32Array(n).fill(-1);
    this.machineNext = new Int32Array(n).fill(-1);
    this.firstOn = new Int32Array(shop.machines).fill(-1);
    this.head = new Int32Array(n);
    this.tail = new Int32Array(n);
    this.headWithout = new Int32Array(n);
    this.tailWithout = new Int32Array(n);
    this.topological = new Int32Array(n);
    this.place = new Int32Array(n);
    this.indegree = new Int32Array(n);
  }

  /** Sets the sequences by the order in which the operations are given; `chosen` is set already. */
  sequence(order: ArrayLike<number>): void {
    const { shop, machinePrev, machineNext, firstOn } = this;
    const lastOn = new Int32Array(shop.machines).fill(-1);
    firstOn.fill(-1);
    for (let k = 0; k < order.length; k++) {
      const o = order[k]!;
      const m = shop.machine[this.chosen[o]!]!;
      machinePrev[o] = lastOn[m]!;
      machineNext[o] = -1;
      if (lastOn[m]! < 0) firstOn[m] = o;
      else machineNext[lastOn[m]!] = o;
      lastOn[m] = o;
    }
  }

  /** Longest path of all. */
  length(): number {
    let length = 0;
    for (let o = 0; o < this.n; o++) length = Math.max(length, this.head[o]! + this.minutesOf(o));
    return length;
  }

  /** Moves an operation to a mode, between two neighbours (-1: none) on its machine. */
  move(v: number, mode: number, before: number, after: number): void {
    const { shop, machinePrev, machineNext, firstOn } = this;
    this.takeOut(v, shop.machine[this.chosen[v]!]!);
    this.chosen[v] = mode;
    machinePrev[v] = before;
    machineNext[v] = after;
    if (before >= 0) machineNext[before] = v;
    else firstOn[shop.machine[mode]!] = v;
    if (after >= 0) machinePrev[after] = v;
  }

  minutesOf(o: number): number {
    return this.shop.minutes[this.chosen[o]!]!;
  }

  /** Topological order, heads and tails of the whole graph. */
  evaluate(): void {
    const { shop, n, head, tail, topological, place, indegree, machinePrev, machineNext } = this;
    const { firstAfter, after, firstBefore } = shop;
    let size = 0;
    for (let o = 0; o < n; o++) {
      indegree[o] = firstBefore[o + 1]! - firstBefore[o]! + (machinePrev[o]! >= 0 ? 1 : 0);
      if (indegree[o] === 0) topological[size++] = o;
    }
    for (let k = 0; k < size; k++) {
      const o = topological[k]!;
      place[o] = k;
      head[o] = this.headOf(o, head, -1);
      for (let a = firstAfter[o]!; a < firstAfter[o + 1]!; a++) {
        if (--indegree[after[a]!]! === 0) topological[size++] = after[a]!;
      }
      const next = machineNext[o]!;
      if (next >= 0 && --indegree[next]! === 0) topological[size++] = next;
    }
    if (size !== n) throw new Error('an insertion closed a cycle');
    for (let k = n - 1; k >= 0; k--) {
      const o = topological[k]!;
      tail[o] = this.tailOf(o, tail, -1);
    }
  }

  /** Earliest start from predecessors' heads; the machine's order skips `without`. */
  private headOf(o: number, head: Int32Array, without: number): number {
    const { firstBefore, before, beforeGap, release, minutes } = this.shop;
    let h = release[o]!;
    for (let a = firstBefore[o]!; a < firstBefore[o + 1]!; a++) {
      const p = before[a]!;
      const end = head[p]! + minutes[this.chosen[p]!]! + beforeGap[a]!;
      if (end > h) h = end;
    }
    let prev = this.machinePrev[o]!;
    if (prev === without && prev >= 0) prev = this.machinePrev[prev]!;
    if (prev >= 0) {
      const end = head[prev]! + minutes[this.chosen[prev]!]!;
      if (end > h) h = end;
    }
    return h;
  }

  /** Longest path from the end of an operation to the end of all. */
  private tailOf(o: number, tail: Int32Array, without: number): number {
    const { firstAfter, after, afterGap, minutes } = this.shop;
    let t = 0;
    for (let a = firstAfter[o]!; a < firstAfter[o + 1]!; a++) {
      const s = after[a]!;
      const rest = tail[s]! + minutes[this.chosen[s]!]! + afterGap[a]!;
      if (rest > t) t = rest;
    }
    let next = this.machineNext[o]!;
    if (next === without && next >= 0) next = this.machineNext[next]!;
    if (next >= 0) {
      const rest = tail[next]! + minutes[this.chosen[next]!]!;
      if (rest > t) t = rest;
    }
    return t;
  }

  /** Heads and tails of the others with an operation out of its machine's sequence; its job still waits for it. */
  evaluateWithout(v: number): void {
    const { n, topological, place, headWithout, tailWithout } = this;
    headWithout.set(this.head);
    tailWithout.set(this.tail);
    headWithout[v] = this.jobHead(v);
    tailWithout[v] = this.jobTail(v);
    for (let k = place[v]! + 1; k < n; k++) {
      const o = topological[k]!;
      headWithout[o] = this.headOf(o, headWithout, v);
    }
    for (let k = place[v]! - 1; k >= 0; k--) {
      const o = topological[k]!;
      tailWithout[o] = this.tailOf(o, tailWithout, v);
    }
  }

  /** Head of an operation that only its job holds back. */
  jobHead(v: number): number {
    const { firstBefore, before, beforeGap, release } = this.shop;
    let h = release[v]!;
    for (let a = firstBefore[v]!; a < firstBefore[v + 1]!; a++) {
      h = Math.max(h, this.headWithout[before[a]!]! + this.minutesOf(before[a]!) + beforeGap[a]!);
    }
    return h;
  }

  /** Tail of an operation after which only its job goes on. */
  jobTail(v: number): number {
    const { firstAfter, after, afterGap } = this.shop;
    let t = 0;
    for (let a = firstAfter[v]!; a < firstAfter[v + 1]!; a++) {
      t = Math.max(t, this.tailWithout[after[a]!]! + this.minutesOf(after[a]!) + afterGap[a]!);
    }
    return t;
  }

  private takeOut(v: number, machine: number): void {
    const prev = this.machinePrev[v]!;
    const next = this.machineNext[v]!;
    if (prev >= 0) this.machineNext[prev] = next;
    else this.firstOn[machine] = next;
    if (next >= 0) this.machinePrev[next] = prev;
  }
}
