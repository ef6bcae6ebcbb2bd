import type { Schedule } from '../problem/solution.ts';
import type { IncumbentSource } from './incumbent-source.ts';
import type { MachineShop } from './machine-shop.ts';
import type { SeededRandom } from './seeded-random.ts';

/**
 * Tabu search for makespan: an operation of a longest path is taken out and put back where it delays least, on its own
 * machine or on another it can use.
 *
 * References: Mastrolilli and Gambardella, Journal of Scheduling 3, 2000 (insertion between the operations that must
 * precede and those that must follow, never a cycle); Nowicki and Smutnicki, Management Science 42, 1996 (tabu lists of
 * orders, return to good schedules).
 */
export class ShopTabu implements IncumbentSource {
  makespan = Number.POSITIVE_INFINITY;
  /** Node visits over four: about the cost of a trail entry. */
  work = 0;

  private readonly shop: MachineShop;
  private readonly random: SeededRandom;
  private readonly n: number;
  /** Chosen mode, as an index into the shop's modes. */
  private readonly chosen: Int32Array;
  private readonly machinePrev: Int32Array;
  private readonly machineNext: Int32Array;
  private readonly firstOn: Int32Array;
  private readonly head: Int32Array;
  private readonly tail: Int32Array;
  private readonly topological: Int32Array;
  private readonly place: Int32Array;
  private readonly indegree: Int32Array;
  /** Heads and tails with one operation taken out. */
  private readonly headWithout: Int32Array;
  private readonly tailWithout: Int32Array;
  private readonly sequence: Int32Array;
  private readonly tabuOrder: Int32Array;
  private readonly tabuMachine: Int32Array;
  private iteration = 0;
  private lastImproved = 0;
  private readonly bestChosen: Int32Array;
  private readonly bestNext: Int32Array;
  private readonly bestFirst: Int32Array;
  private readonly bestHead: Int32Array;

  private moveOperation = -1;
  private moveMode = -1;
  private moveBefore = -1;
  private moveAfter = -1;

  constructor(shop: MachineShop, random: SeededRandom) {
    const n = shop.operations;
    this.shop = shop;
    this.random = random;
    this.n = n;
    this.chosen = new Int32Array(n);
    this.machinePrev = new Int32Array(n).fill(-1);
    this.machineNext = new Int32Array(n).fill(-1);
    this.firstOn = new Int32Array(shop.machines).fill(-1);
    this.head = new Int32Array(n);
    this.tail = new Int32Array(n);
    this.topological = new Int32Array(n);
    this.place = new Int32Array(n);
    this.indegree = new Int32Array(n);
    this.headWithout = new Int32Array(n);
    this.tailWithout = new Int32Array(n);
    this.sequence = new Int32Array(n);
    this.tabuOrder = new Int32Array(n * n);
    this.tabuMachine = new Int32Array(n * shop.machines);
    this.bestChosen = new Int32Array(n);
    this.bestNext = new Int32Array(n);
    this.bestFirst = new Int32Array(shop.machines);
    this.bestHead = new Int32Array(n);
    this.construct();
    this.evaluate();
    this.keepIfBest();
  }

  /** Searches until about `work` more node visits are done or the makespan is at most `enough`. */
  run(work: number, enough: number, stop: () => boolean): void {
    const until = this.work + work;
    while (this.work < until && this.makespan > enough) {
      if ((this.iteration & 63) === 0 && stop()) return;
      if (this.iteration - this.lastImproved > 4000 + 20 * this.n) this.restart();
      this.iteration++;
      if (!this.chooseMove()) {
        this.restart();
        continue;
      }
      this.applyMove();
      this.evaluate();
      this.keepIfBest();
    }
  }

  /** The best schedule found. */
  schedule(): Schedule {
    return {
      operations: Array.from(this.bestHead, (start, o) => {
        const mode = this.bestChosen[o]!;
        return { start, end: start + this.shop.minutes[mode]!, mode: this.shop.modeOf[mode]! };
      }),
      stays: [],
    };
  }

  /** Takes over a schedule found elsewhere. */
  adopt(schedule: Schedule): void {
    const { shop, n } = this;
    for (let o = 0; o < n; o++) this.chosen[o] = shop.firstMode[o]! + schedule.operations[o]!.mode;
    const order = Array.from({ length: n }, (_, o) => o).sort(
      (a, b) => schedule.operations[a]!.start - schedule.operations[b]!.start,
    );
    this.firstOn.fill(-1);
    const lastOn = new Int32Array(shop.machines).fill(-1);
    for (const o of order) {
      const m = shop.machine[this.chosen[o]!]!;
      this.machinePrev[o] = lastOn[m]!;
      this.machineNext[o] = -1;
      if (lastOn[m]! < 0) this.firstOn[m] = o;
      else this.machineNext[lastOn[m]!] = o;
      lastOn[m] = o;
    }
    this.evaluate();
    this.keepIfBest();
  }

  private minutesOf(o: number): number {
    return this.shop.minutes[this.chosen[o]!]!;
  }

  private keepIfBest(): void {
    let makespan = 0;
    for (let o = 0; o < this.n; o++) makespan = Math.max(makespan, this.head[o]! + this.minutesOf(o));
    if (makespan >= this.makespan) return;
    this.makespan = makespan;
    this.lastImproved = this.iteration;
    this.bestChosen.set(this.chosen);
    this.bestNext.set(this.machineNext);
    this.bestFirst.set(this.firstOn);
    this.bestHead.set(this.head);
  }

  /** Puts the operations one by one, each time the one that can end first on its best machine. */
  private construct(): void {
    const { shop, n } = this;
    const waiting = new Int32Array(n);
    const ready = Int32Array.from(shop.release);
    const free = new Int32Array(shop.machines);
    const lastOn = new Int32Array(shop.machines).fill(-1);
    for (let o = 0; o < n; o++) waiting[o] = shop.firstBefore[o + 1]! - shop.firstBefore[o]!;
    const remaining = this.remainingWork();
    for (let k = 0; k < n; k++) {
      let best = -1;
      let bestMode = -1;
      let bestEnd = 0;
      for (let o = 0; o < n; o++) {
        if (waiting[o] !== 0) continue;
        for (let m = shop.firstMode[o]!; m < shop.firstMode[o + 1]!; m++) {
          const start = Math.max(ready[o]!, free[shop.machine[m]!]!);
          const end = start + shop.minutes[m]! - remaining[o]! / 4;
          if (best < 0 || end < bestEnd) {
            best = o;
            bestMode = m;
            bestEnd = end;
          }
        }
      }
      const m = shop.machine[bestMode]!;
      const end = Math.max(ready[best]!, free[m]!) + shop.minutes[bestMode]!;
      waiting[best] = -1;
      this.chosen[best] = bestMode;
      this.machinePrev[best] = lastOn[m]!;
      if (lastOn[m]! < 0) this.firstOn[m] = best;
      else this.machineNext[lastOn[m]!] = best;
      lastOn[m] = best;
      free[m] = end;
      for (let a = shop.firstAfter[best]!; a < shop.firstAfter[best + 1]!; a++) {
        const next = shop.after[a]!;
        waiting[next]!--;
        ready[next] = Math.max(ready[next]!, end + shop.afterGap[a]!);
      }
    }
  }

  /** Least work from each operation to the end of what follows it. */
  private remainingWork(): Int32Array {
    const { shop, n } = this;
    const left = new Int32Array(n);
    const open = new Int32Array(n);
    const stack: number[] = [];
    for (let o = 0; o < n; o++) {
      open[o] = shop.firstAfter[o + 1]! - shop.firstAfter[o]!;
      if (open[o] === 0) stack.push(o);
    }
    while (stack.length > 0) {
      const o = stack.pop()!;
      let least = shop.minutes[shop.firstMode[o]!]!;
      for (let m = shop.firstMode[o]!; m < shop.firstMode[o + 1]!; m++) least = Math.min(least, shop.minutes[m]!);
      left[o]! += least;
      for (let a = shop.firstBefore[o]!; a < shop.firstBefore[o + 1]!; a++) {
        const before = shop.before[a]!;
        left[before] = Math.max(left[before]!, left[o]! + shop.beforeGap[a]!);
        if (--open[before]! === 0) stack.push(before);
      }
    }
    return left;
  }

  /** Topological order, heads and tails of the whole graph. */
  private evaluate(): void {
    const { shop, n, head, tail, topological, place, indegree, machinePrev, machineNext } = this;
    const { firstAfter, after, firstBefore } = shop;
    this.work += n >> 1;
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

  /** Finds the least harmful insertion of an operation of one longest path. */
  private chooseMove(): boolean {
    const { head, n } = this;
    let length = 0;
    for (let o = 0; o < n; o++) length = Math.max(length, head[o]! + this.minutesOf(o));
    let best = Number.POSITIVE_INFINITY;
    let bestFree = Number.POSITIVE_INFINITY;
    let ties = 0;
    this.moveOperation = -1;
    let fallback = 0;
    const consider = (v: number, mode: number, before: number, after: number, estimate: number, tabu: boolean) => {
      if (tabu && estimate >= this.makespan) {
        // With nothing free, some forbidden move is made.
        if (this.moveOperation < 0 || bestFree === Number.POSITIVE_INFINITY) {
          if (this.random.below(++fallback) === 0 && bestFree === Number.POSITIVE_INFINITY) {
            this.setMove(v, mode, before, after);
          }
        }
        return;
      }
      if (estimate < best) {
        best = estimate;
        ties = 1;
      } else if (estimate > best || this.random.below(++ties) !== 0) return;
      bestFree = estimate;
      this.setMove(v, mode, before, after);
    };
    let v = this.criticalSuccessor(-1, length);
    while (v >= 0) {
      if (this.worthMoving(v)) this.tryInsertions(v, consider);
      v = this.criticalSuccessor(v, length);
    }
    return this.moveOperation >= 0;
  }

  private setMove(v: number, mode: number, before: number, after: number): void {
    this.moveOperation = v;
    this.moveMode = mode;
    this.moveBefore = before;
    this.moveAfter = after;
  }

  /** The next operation of a longest path drawn at random; the first one after -1. */
  private criticalSuccessor(v: number, length: number): number {
    const { shop, head, tail, n } = this;
    let found = -1;
    let count = 0;
    if (v < 0) {
      for (let o = 0; o < n; o++) {
        if (head[o] !== shop.release[o]! || head[o]! + this.minutesOf(o) + tail[o]! !== length) continue;
        if (this.random.below(++count) === 0) found = o;
      }
      return found;
    }
    const end = head[v]! + this.minutesOf(v);
    for (let a = shop.firstAfter[v]!; a < shop.firstAfter[v + 1]!; a++) {
      const s = shop.after[a]!;
      if (head[s] !== end + shop.afterGap[a]! || head[s]! + this.minutesOf(s) + tail[s]! !== length) continue;
      if (this.random.below(++count) === 0) found = s;
    }
    const next = this.machineNext[v]!;
    if (next >= 0 && head[next] === end && head[next]! + this.minutesOf(next) + tail[next]! === length) {
      if (this.random.below(++count) === 0) found = next;
    }
    return found;
  }

  /** Alone in its block and with no other machine to go to, an operation cannot shorten the path. */
  private worthMoving(v: number): boolean {
    if (this.shop.firstMode[v + 1]! - this.shop.firstMode[v]! > 1) return true;
    const prev = this.machinePrev[v]!;
    const next = this.machineNext[v]!;
    const end = this.head[v]! + this.minutesOf(v);
    const tight = (u: number) => this.head[u]! + this.minutesOf(u) === this.head[v];
    return (prev >= 0 && tight(prev)) || (next >= 0 && this.head[next] === end);
  }

  private tryInsertions(
    v: number,
    consider: (v: number, mode: number, before: number, after: number, estimate: number, tabu: boolean) => void,
  ): void {
    const { shop, n, topological, place, headWithout, tailWithout } = this;
    const at = place[v]!;
    headWithout.set(this.head);
    tailWithout.set(this.tail);
    this.work += n >> 2;
    headWithout[v] = this.jobHead(v);
    tailWithout[v] = this.jobTail(v);
    for (let k = at + 1; k < n; k++) {
      const o = topological[k]!;
      // The arcs of the job still hold while v is out: it passes its job's start on, and its own minutes.
      headWithout[o] = this.headOf(o, headWithout, v);
    }
    for (let k = at - 1; k >= 0; k--) {
      const o = topological[k]!;
      tailWithout[o] = this.tailOf(o, tailWithout, v);
    }
    for (let mode = shop.firstMode[v]!; mode < shop.firstMode[v + 1]!; mode++) this.tryMachine(v, mode, consider);
  }

  private tryMachine(
    v: number,
    mode: number,
    consider: (v: number, mode: number, before: number, after: number, estimate: number, tabu: boolean) => void,
  ): void {
    const { shop, sequence, headWithout, tailWithout } = this;
    const machine = shop.machine[mode]!;
    const minutes = shop.minutes[mode]!;
    const jobHead = this.jobHead(v);
    const jobTail = this.jobTail(v);
    let size = 0;
    for (let x = this.firstOn[machine]!; x >= 0; x = this.machineNext[x]!) if (x !== v) sequence[size++] = x;
    this.work += size >> 3;
    // Those that end after v could start need not be before it; those whose rest is longer than v's need not be after.
    let low = 0;
    while (low < size && headWithout[sequence[low]!]! + this.minutesOf(sequence[low]!) <= jobHead) low++;
    let high = size;
    while (high > 0 && tailWithout[sequence[high - 1]!]! + this.minutesOf(sequence[high - 1]!) <= jobTail) high--;
    if (low > high) {
      const middle = high + this.random.below(low - high + 1);
      low = middle;
      high = middle;
    }
    const same = machine === shop.machine[this.chosen[v]!];
    const current = same ? this.machinePrev[v]! : -2;
    for (let k = low; k <= high; k++) {
      const before = k > 0 ? sequence[k - 1]! : -1;
      const after = k < size ? sequence[k]! : -1;
      if (same && before === current) continue;
      let h = jobHead;
      if (before >= 0) h = Math.max(h, headWithout[before]! + this.minutesOf(before));
      let t = jobTail;
      if (after >= 0) t = Math.max(t, tailWithout[after]! + this.minutesOf(after));
      consider(v, mode, before, after, h + minutes + t, this.isTabu(v, machine, same, k, size));
    }
  }

  private jobHead(v: number): number {
    const { firstBefore, before, beforeGap, release } = this.shop;
    let h = release[v]!;
    for (let a = firstBefore[v]!; a < firstBefore[v + 1]!; a++) {
      h = Math.max(h, this.headWithout[before[a]!]! + this.minutesOf(before[a]!) + beforeGap[a]!);
    }
    return h;
  }

  private jobTail(v: number): number {
    const { firstAfter, after, afterGap } = this.shop;
    let t = 0;
    for (let a = firstAfter[v]!; a < firstAfter[v + 1]!; a++) {
      t = Math.max(t, this.tailWithout[after[a]!]! + this.minutesOf(after[a]!) + afterGap[a]!);
    }
    return t;
  }

  private isTabu(v: number, machine: number, same: boolean, k: number, size: number): boolean {
    if (!same) return this.tabuMachine[v * this.shop.machines + machine]! > this.iteration;
    const { n, sequence, tabuOrder } = this;
    const start = this.head[v]!;
    for (let q = k; q < size && this.head[sequence[q]!]! < start; q++) {
      if (tabuOrder[v * n + sequence[q]!]! > this.iteration) return true;
    }
    for (let q = k - 1; q >= 0 && this.head[sequence[q]!]! > start; q--) {
      if (tabuOrder[sequence[q]! * n + v]! > this.iteration) return true;
    }
    return false;
  }

  private applyMove(): void {
    const { shop, n, machinePrev, machineNext } = this;
    const v = this.moveOperation;
    const oldMachine = shop.machine[this.chosen[v]!]!;
    const machine = shop.machine[this.moveMode]!;
    const tenure = this.iteration + 8 + Math.floor(n / (2 * shop.machines)) + this.random.below(10);
    if (machine !== oldMachine) {
      this.tabuMachine[v * shop.machines + oldMachine] = tenure;
    } else {
      let x = this.moveAfter;
      for (; x >= 0 && x !== v && this.head[x]! < this.head[v]!; x = machineNext[x]!)
        this.tabuOrder[x * n + v] = tenure;
      x = this.moveBefore;
      for (; x >= 0 && x !== v && this.head[x]! > this.head[v]!; x = machinePrev[x]!)
        this.tabuOrder[v * n + x] = tenure;
    }
    this.takeOut(v, oldMachine);
    const before = this.moveBefore;
    const after = this.moveAfter;
    this.chosen[v] = this.moveMode;
    machinePrev[v] = before;
    machineNext[v] = after;
    if (before >= 0) machineNext[before] = v;
    else this.firstOn[machine] = v;
    if (after >= 0) machinePrev[after] = v;
  }

  private takeOut(v: number, machine: number): void {
    const prev = this.machinePrev[v]!;
    const next = this.machineNext[v]!;
    if (prev >= 0) this.machineNext[prev] = next;
    else this.firstOn[machine] = next;
    if (next >= 0) this.machinePrev[next] = prev;
  }

  /** Goes back to the best schedule, forgets what is tabu and makes some moves at random. */
  private restart(): void {
    this.lastImproved = this.iteration;
    this.chosen.set(this.bestChosen);
    this.machineNext.set(this.bestNext);
    this.firstOn.set(this.bestFirst);
    this.machinePrev.fill(-1);
    for (let o = 0; o < this.n; o++) if (this.machineNext[o]! >= 0) this.machinePrev[this.machineNext[o]!] = o;
    this.tabuOrder.fill(0);
    this.tabuMachine.fill(0);
    this.evaluate();
    const moves = 2 + this.random.below(12);
    for (let k = 0; k < moves; k++) {
      const v = this.random.below(this.n);
      let count = 0;
      this.moveOperation = -1;
      this.tryInsertions(v, (o, mode, before, after) => {
        if (this.random.below(++count) === 0) this.setMove(o, mode, before, after);
      });
      if (this.moveOperation < 0) continue;
      this.iteration++;
      this.applyMove();
      this.evaluate();
      this.keepIfBest();
    }
  }
}
