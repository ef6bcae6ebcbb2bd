import { type Bounds, doubled } from './bounds.ts';
import type { Explanation } from './explanation.ts';

const HEADER = 3;
const SIZE = 0;
const LBD = 1;
const USED = 2;

/** Ints in a watch: threshold, clause, and a literal of the clause that spares the look into it when it is true. */
const WATCH = 4;

/**
 * Clauses over bound literals in one arena, each watched by two of its literals.
 *
 * A watch of literal (g, b) sits in the list of half g ^ 1 and fires when that half reaches 1 - b. Reference for the
 * scheme: Moskewicz et al., "Chaff", DAC 2001; blocking literals and clause quality after Audemard and Simon, IJCAI 2009.
 */
export class Clauses {
  private memory = new Int32Array(1 << 16);
  private used = 0;
  private lists: Int32Array[] = [];
  private lengths = new Int32Array(256);
  private readonly bounds: Bounds;
  private readonly explanation: Explanation;
  private readonly reason: number;
  private learnt: number[] = [];
  private given: number[] = [];

  constructor(bounds: Bounds, explanation: Explanation, reason: number) {
    this.bounds = bounds;
    this.explanation = explanation;
    this.reason = reason;
  }

  get learntCount(): number {
    return this.learnt.length;
  }

  /** Makes room for the halves that exist. */
  seal(): void {
    while (this.lengths.length < this.bounds.halves) this.lengths = doubled(this.lengths);
    while (this.lists.length < this.bounds.halves) this.lists.push(new Int32Array(WATCH * 2));
  }

  /** Stores n >= 2 literals from two parallel arrays; the first two are watched. Returns the clause. */
  add(half: Int32Array, bound: Int32Array, n: number, lbd: number): number {
    const c = this.used;
    const need = c + HEADER + 2 * n;
    while (need > this.memory.length) this.memory = doubled(this.memory);
    const memory = this.memory;
    memory[c + SIZE] = n;
    memory[c + LBD] = lbd;
    memory[c + USED] = 1;
    for (let k = 0; k < n; k++) {
      memory[c + HEADER + 2 * k] = half[k]!;
      memory[c + HEADER + 2 * k + 1] = bound[k]!;
    }
    this.used = need;
    (lbd > 0 ? this.learnt : this.given).push(c);
    this.watch(half[0]!, bound[0]!, c, half[1]!, bound[1]!);
    this.watch(half[1]!, bound[1]!, c, half[0]!, bound[0]!);
    return c;
  }

  propagate(entry: number): boolean {
    const bounds = this.bounds;
    const lower = bounds.lower;
    const memory = this.memory;
    const h = bounds.half[entry]!;
    const from = bounds.old[entry]!;
    const to = bounds.bound[entry]!;
    let list = this.lists[h]!;
    let i = 0;
    let j = 0;
    let ok = true;
    scan: while (i < this.lengths[h]!) {
      const threshold = list[i]!;
      const c = list[i + 1]!;
      const blockHalf = list[i + 2]!;
      const blockBound = list[i + 3]!;
      i += WATCH;
      if (threshold > to || threshold <= from || !ok || lower[blockHalf]! >= blockBound) {
        if (j + WATCH !== i) {
          list[j] = threshold;
          list[j + 1] = c;
          list[j + 2] = blockHalf;
          list[j + 3] = blockBound;
        }
        j += WATCH;
        continue;
      }
      const base = c + HEADER;
      if (memory[base] === (h ^ 1) && memory[base + 1] === 1 - threshold) {
        memory[base] = memory[base + 2]!;
        memory[base + 1] = memory[base + 3]!;
        memory[base + 2] = h ^ 1;
        memory[base + 3] = 1 - threshold;
      }
      const firstHalf = memory[base]!;
      const firstBound = memory[base + 1]!;
      if (lower[firstHalf]! < firstBound) {
        const end = base + 2 * memory[c + SIZE]!;
        for (let k = base + 4; k < end; k += 2) {
          const g = memory[k]!;
          const b = memory[k + 1]!;
          if (lower[g ^ 1]! < 1 - b) {
            memory[k] = memory[base + 2]!;
            memory[k + 1] = memory[base + 3]!;
            memory[base + 2] = g;
            memory[base + 3] = b;
            this.watch(g, b, c, firstHalf, firstBound);
            list = this.lists[h]!;
            continue scan;
          }
        }
        memory[c + USED] = 1;
        ok = bounds.raise(firstHalf, firstBound, this.reason, c);
      }
      list[j] = threshold;
      list[j + 1] = c;
      list[j + 2] = firstHalf;
      list[j + 3] = firstBound;
      j += WATCH;
    }
    this.lengths[h] = j;
    return ok;
  }

  /** The literals of the clause but the first, negated. */
  explain(c: number): void {
    const memory = this.memory;
    const end = c + HEADER + 2 * memory[c + SIZE]!;
    memory[c + USED] = 1;
    for (let k = c + HEADER + 2; k < end; k += 2) this.explanation.push(memory[k]! ^ 1, 1 - memory[k + 1]!);
  }

  /**
   * Drops the worse half of the learnt clauses and whatever is true at the root. Only at level 0 with no reasons on the
   * trail, because clauses move.
   */
  reduce(): void {
    const memory = this.memory;
    const rank = (c: number) => (memory[c + LBD]! <= 2 ? 0 : memory[c + LBD]! * 2 - memory[c + USED]!);
    const sorted = [...this.learnt].sort((a, b) => rank(a) - rank(b) || b - a);
    const kept: number[] = [];
    for (let k = 0; k < sorted.length; k++) {
      const c = sorted[k]!;
      if (k < sorted.length / 2 || memory[c + LBD]! <= 2) kept.push(c);
    }
    for (const c of kept) memory[c + USED] = 0;
    this.compact([...this.given, ...kept.sort((a, b) => a - b)]);
  }

  private compact(kept: number[]): void {
    const source = this.memory;
    this.memory = new Int32Array(source.length);
    this.used = 0;
    this.learnt = [];
    this.given = [];
    this.lengths.fill(0);
    const lower = this.bounds.lower;
    const half: number[] = [];
    const bound: number[] = [];
    for (const c of kept) {
      half.length = 0;
      bound.length = 0;
      let satisfied = false;
      const end = c + HEADER + 2 * source[c + SIZE]!;
      for (let k = c + HEADER; k < end; k += 2) {
        const g = source[k]!;
        const b = source[k + 1]!;
        if (lower[g]! >= b) satisfied = true;
        if (lower[g ^ 1]! >= 1 - b) continue;
        half.push(g);
        bound.push(b);
      }
      if (satisfied) continue;
      const added = this.add(Int32Array.from(half), Int32Array.from(bound), half.length, source[c + LBD]!);
      this.memory[added + USED] = source[c + USED]!;
    }
  }

  private watch(g: number, b: number, c: number, blockHalf: number, blockBound: number): void {
    const h = g ^ 1;
    let list = this.lists[h]!;
    const n = this.lengths[h]!;
    if (n + WATCH > list.length) {
      list = doubled(list);
      this.lists[h] = list;
    }
    list[n] = 1 - b;
    list[n + 1] = c;
    list[n + 2] = blockHalf;
    list[n + 3] = blockBound;
    this.lengths[h] = n + WATCH;
  }
}
