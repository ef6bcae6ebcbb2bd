import type { Schedule } from '../problem/solution.ts';
import type { IncumbentSource } from './incumbent-source.ts';
import type { MachineShop } from './machine-shop.ts';
import type { SeededRandom } from './seeded-random.ts';
import { dispatch } from './shop-dispatch.ts';
import { ShopSequences } from './shop-sequences.ts';

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
  private readonly sequences: ShopSequences;
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
    this.sequences = new ShopSequences(shop);
    this.sequence = new Int32Array(n);
    this.tabuOrder = new Int32Array(n * n);
    this.tabuMachine = new Int32Array(n * shop.machines);
    this.bestChosen = new Int32Array(n);
    this.bestNext = new Int32Array(n);
    this.bestFirst = new Int32Array(shop.machines);
    this.bestHead = new Int32Array(n);
    dispatch(this.sequences);
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
    const { shop, n, sequences } = this;
    const starts = schedule.operations.map((planned) => planned!.start);
    for (let o = 0; o < n; o++) sequences.chosen[o] = shop.firstMode[o]! + schedule.operations[o]!.mode;
    sequences.sequence(starts.map((_, o) => o).sort((a, b) => starts[a]! - starts[b]!));
    this.evaluate();
    this.keepIfBest();
  }

  private evaluate(): void {
    this.work += this.n >> 1;
    this.sequences.evaluate();
  }

  private keepIfBest(): void {
    const makespan = this.sequences.length();
    if (makespan >= this.makespan) return;
    this.makespan = makespan;
    this.lastImproved = this.iteration;
    this.bestChosen.set(this.sequences.chosen);
    this.bestNext.set(this.sequences.machineNext);
    this.bestFirst.set(this.sequences.firstOn);
    this.bestHead.set(this.sequences.head);
  }

  /** Finds the least harmful insertion of an operation of one longest path. */
  private chooseMove(): boolean {
    const length = this.sequences.length();
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
    const { shop, n } = this;
    const { head, tail } = this.sequences;
    let found = -1;
    let count = 0;
    if (v < 0) {
      for (let o = 0; o < n; o++) {
        if (head[o] !== shop.release[o]! || head[o]! + this.sequences.minutesOf(o) + tail[o]! !== length) continue;
        if (this.random.below(++count) === 0) found = o;
      }
      return found;
    }
    const end = head[v]! + this.sequences.minutesOf(v);
    for (let a = shop.firstAfter[v]!; a < shop.firstAfter[v + 1]!; a++) {
      const s = shop.after[a]!;
      if (head[s] !== end + shop.afterGap[a]! || head[s]! + this.sequences.minutesOf(s) + tail[s]! !== length) continue;
      if (this.random.below(++count) === 0) found = s;
    }
    const next = this.sequences.machineNext[v]!;
    if (next >= 0 && head[next] === end && head[next]! + this.sequences.minutesOf(next) + tail[next]! === length) {
      if (this.random.below(++count) === 0) found = next;
    }
    return found;
  }

  /** Alone in its block and with no other machine to go to, an operation cannot shorten the path. */
  private worthMoving(v: number): boolean {
    if (this.shop.firstMode[v + 1]! - this.shop.firstMode[v]! > 1) return true;
    const prev = this.sequences.machinePrev[v]!;
    const next = this.sequences.machineNext[v]!;
    const end = this.sequences.head[v]! + this.sequences.minutesOf(v);
    const tight = (u: number) => this.sequences.head[u]! + this.sequences.minutesOf(u) === this.sequences.head[v];
    return (prev >= 0 && tight(prev)) || (next >= 0 && this.sequences.head[next] === end);
  }

  private tryInsertions(
    v: number,
    consider: (v: number, mode: number, before: number, after: number, estimate: number, tabu: boolean) => void,
  ): void {
    const { shop } = this;
    this.work += this.n >> 2;
    this.sequences.evaluateWithout(v);
    for (let mode = shop.firstMode[v]!; mode < shop.firstMode[v + 1]!; mode++) this.tryMachine(v, mode, consider);
  }

  private tryMachine(
    v: number,
    mode: number,
    consider: (v: number, mode: number, before: number, after: number, estimate: number, tabu: boolean) => void,
  ): void {
    const { shop, sequence } = this;
    const { headWithout, tailWithout } = this.sequences;
    const machine = shop.machine[mode]!;
    const minutes = shop.minutes[mode]!;
    const jobHead = this.sequences.jobHead(v);
    const jobTail = this.sequences.jobTail(v);
    let size = 0;
    for (let x = this.sequences.firstOn[machine]!; x >= 0; x = this.sequences.machineNext[x]!)
      if (x !== v) sequence[size++] = x;
    this.work += size >> 3;
    // Those that end after v could start need not be before it; those whose rest is longer than v's need not be after.
    let low = 0;
    while (low < size && headWithout[sequence[low]!]! + this.sequences.minutesOf(sequence[low]!) <= jobHead) low++;
    let high = size;
    while (high > 0 && tailWithout[sequence[high - 1]!]! + this.sequences.minutesOf(sequence[high - 1]!) <= jobTail)
      high--;
    if (low > high) {
      const middle = high + this.random.below(low - high + 1);
      low = middle;
      high = middle;
    }
    const same = machine === shop.machine[this.sequences.chosen[v]!];
    const current = same ? this.sequences.machinePrev[v]! : -2;
    for (let k = low; k <= high; k++) {
      const before = k > 0 ? sequence[k - 1]! : -1;
      const after = k < size ? sequence[k]! : -1;
      if (same && before === current) continue;
      let h = jobHead;
      if (before >= 0) h = Math.max(h, headWithout[before]! + this.sequences.minutesOf(before));
      let t = jobTail;
      if (after >= 0) t = Math.max(t, tailWithout[after]! + this.sequences.minutesOf(after));
      consider(v, mode, before, after, h + minutes + t, this.isTabu(v, machine, same, k, size));
    }
  }

  private isTabu(v: number, machine: number, same: boolean, k: number, size: number): boolean {
    if (!same) return this.tabuMachine[v * this.shop.machines + machine]! > this.iteration;
    const { n, sequence, tabuOrder } = this;
    const start = this.sequences.head[v]!;
    for (let q = k; q < size && this.sequences.head[sequence[q]!]! < start; q++) {
      if (tabuOrder[v * n + sequence[q]!]! > this.iteration) return true;
    }
    for (let q = k - 1; q >= 0 && this.sequences.head[sequence[q]!]! > start; q--) {
      if (tabuOrder[sequence[q]! * n + v]! > this.iteration) return true;
    }
    return false;
  }

  private applyMove(): void {
    const { shop, n } = this;
    const { machinePrev, machineNext } = this.sequences;
    const v = this.moveOperation;
    const oldMachine = shop.machine[this.sequences.chosen[v]!]!;
    const machine = shop.machine[this.moveMode]!;
    const tenure = this.iteration + 8 + Math.floor(n / (2 * shop.machines)) + this.random.below(10);
    if (machine !== oldMachine) {
      this.tabuMachine[v * shop.machines + oldMachine] = tenure;
    } else {
      let x = this.moveAfter;
      for (; x >= 0 && x !== v && this.sequences.head[x]! < this.sequences.head[v]!; x = machineNext[x]!)
        this.tabuOrder[x * n + v] = tenure;
      x = this.moveBefore;
      for (; x >= 0 && x !== v && this.sequences.head[x]! > this.sequences.head[v]!; x = machinePrev[x]!)
        this.tabuOrder[v * n + x] = tenure;
    }
    this.sequences.move(v, this.moveMode, this.moveBefore, this.moveAfter);
  }

  /** Goes back to the best schedule, forgets what is tabu and makes some moves at random. */
  private restart(): void {
    this.lastImproved = this.iteration;
    this.sequences.chosen.set(this.bestChosen);
    this.sequences.machineNext.set(this.bestNext);
    this.sequences.firstOn.set(this.bestFirst);
    this.sequences.machinePrev.fill(-1);
    for (let o = 0; o < this.n; o++)
      if (this.sequences.machineNext[o]! >= 0) this.sequences.machinePrev[this.sequences.machineNext[o]!] = o;
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
