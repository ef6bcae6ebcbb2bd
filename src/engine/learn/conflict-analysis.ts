import type { Activity } from './activity.ts';
import type { Bounds } from './bounds.ts';
import type { Explanation } from './explanation.ts';
import type { Explainer } from './propagator.ts';

/** How deep a literal of a learnt clause is looked through before it is kept. */
const MINIMISE_DEPTH = 12;

/**
 * From a conflict to the clause that prevents it: first unique implication point, over literals lifted to the weakest
 * bound each reason needs, then minimised by dropping literals that the others imply.
 *
 * References: Marques-Silva and Sakallah 1999 (first UIP); Ohrimenko, Stuckey and Codish, Constraints 14, 2009 (lazy
 * clause generation); Sörensson and Biere, SAT 2009 (minimisation).
 */
export class ConflictAnalysis {
  /** The learnt clause, its asserting literal first. */
  half = new Int32Array(256);
  bound = new Int32Array(256);
  size = 0;
  /** Level to go back to, and the number of distinct levels in the clause. */
  backLevel = 0;
  lbd = 0;

  /** By trail entry: the bound needed of it, or `UNSEEN`. */
  private need = new Int32Array(4096);
  private seen = new Uint8Array(4096);
  private touched: number[] = [];
  /** Entries of the clause below the current level. */
  private below: number[] = [];
  private removable = new Map<number, number>();
  private poisoned = new Map<number, number>();
  private levelStamp = new Int32Array(1024);
  private stamp = 0;
  private strongest = new Int32Array(256);
  private strongestStamp = new Int32Array(256);

  private readonly bounds: Bounds;
  private readonly explanation: Explanation;
  private readonly activity: Activity;
  private readonly explainers: readonly Explainer[];

  constructor(bounds: Bounds, explanation: Explanation, activity: Activity, explainers: readonly Explainer[]) {
    this.bounds = bounds;
    this.explanation = explanation;
    this.activity = activity;
    this.explainers = explainers;
  }

  /**
   * Reads the conflict in the explanation (or the emptied half), undoes the trail as far as the implication point, and
   * leaves the clause here. False when the conflict stands at the root.
   */
  run(): boolean {
    const { bounds, explanation } = this;
    if (bounds.emptied >= 0) this.explainEmptied();
    const level = this.highestLevel();
    if (level === 0) return false;
    bounds.backtrackTo(level);
    this.growTo(bounds.size);
    this.below.length = 0;
    this.touched.length = 0;
    let open = this.addAll(0);
    let uip = -1;
    for (;;) {
      const t = bounds.size - 1;
      const h = bounds.half[t]!;
      const reason = bounds.reason[t]!;
      const data = bounds.data[t]!;
      bounds.undoLast();
      if (this.seen[t] === 0) continue;
      if (open === 1) {
        uip = t;
        this.finish(h, this.need[t]!);
        break;
      }
      this.seen[t] = 0;
      open--;
      explanation.size = 0;
      this.activity.bump(h, this.need[t]!);
      this.explainers[reason]!.explain(h, this.need[t]!, data, t);
      open += this.addAll(0);
    }
    this.seen[uip] = 0;
    for (const t of this.touched) this.seen[t] = 0;
    return true;
  }

  /** The entry that crossed the bounds is resolved away at once: its literal was false already. */
  private explainEmptied(): void {
    const { bounds, explanation } = this;
    const t = bounds.size - 1;
    const h = bounds.half[t]!;
    const reason = bounds.reason[t]!;
    const max = -bounds.lower[h ^ 1]!;
    explanation.size = 0;
    if (reason >= 0) {
      this.explainers[reason]!.explain(h, max + 1, bounds.data[t]!, t);
      explanation.push(h ^ 1, -max);
    }
    bounds.undoLast();
    bounds.emptied = -1;
  }

  private highestLevel(): number {
    const { bounds, explanation } = this;
    let highest = 0;
    for (let k = 0; k < explanation.size; k++) {
      const entry = bounds.entryOf(explanation.half[k]!, explanation.bound[k]!);
      if (entry >= 0 && bounds.levelOf[entry]! > highest) highest = bounds.levelOf[entry]!;
    }
    return highest;
  }

  /** Marks the entries behind the explanation's literals; returns how many new ones are of the current level. */
  private addAll(first: number): number {
    const { bounds, explanation, need, seen } = this;
    let open = 0;
    for (let k = first; k < explanation.size; k++) {
      const b = explanation.bound[k]!;
      const t = bounds.entryOf(explanation.half[k]!, b);
      if (t < 0) continue;
      const level = bounds.levelOf[t]!;
      if (level === 0) continue;
      if (seen[t] === 0) {
        seen[t] = 1;
        need[t] = b;
        this.touched.push(t);
        if (level === bounds.level) open++;
        else this.below.push(t);
      } else if (b > need[t]!) need[t] = b;
    }
    return open;
  }

  private finish(uipHalf: number, uipNeed: number): void {
    const { bounds, below, need, activity } = this;
    this.stamp++;
    this.removable.clear();
    this.poisoned.clear();
    this.strongestStamp[uipHalf] = this.stamp;
    this.strongest[uipHalf] = uipNeed;
    for (const t of below) {
      const h = bounds.half[t]!;
      if (this.strongestStamp[h] !== this.stamp || need[t]! > this.strongest[h]!) {
        this.strongestStamp[h] = this.stamp;
        this.strongest[h] = need[t]!;
      }
    }
    let n = 0;
    if (this.half.length < below.length + 1) {
      this.half = new Int32Array(2 * (below.length + 1));
      this.bound = new Int32Array(2 * (below.length + 1));
    }
    this.half[n] = uipHalf ^ 1;
    this.bound[n++] = 1 - uipNeed;
    activity.bump(uipHalf, uipNeed);
    this.backLevel = 0;
    let deepest = 1;
    this.lbd = 1;
    for (const t of below) {
      const h = bounds.half[t]!;
      const b = need[t]!;
      // A stronger literal of the same half says this one too.
      if (b < this.strongest[h]!) continue;
      if (this.explained(t, b, 0)) continue;
      activity.bump(h, b);
      this.half[n] = h ^ 1;
      this.bound[n] = 1 - b;
      const level = bounds.levelOf[t]!;
      if (level > this.backLevel) {
        this.backLevel = level;
        deepest = n;
      }
      if (this.levelStamp[level] !== this.stamp) {
        this.levelStamp[level] = this.stamp;
        this.lbd++;
      }
      n++;
    }
    this.size = n;
    if (n > 2) {
      const h = this.half[1]!;
      const b = this.bound[1]!;
      this.half[1] = this.half[deepest]!;
      this.bound[1] = this.bound[deepest]!;
      this.half[deepest] = h;
      this.bound[deepest] = b;
    }
  }

  /** Whether the reason of [entry's half >= b] follows from literals of the clause before it. */
  private explained(t: number, b: number, depth: number): boolean {
    const { bounds, explanation } = this;
    const reason = bounds.reason[t]!;
    if (reason < 0 || depth > MINIMISE_DEPTH) return false;
    const poison = this.poisoned.get(t);
    if (poison !== undefined && b >= poison) return false;
    const proven = this.removable.get(t);
    if (proven !== undefined && b <= proven) return true;
    const first = explanation.size;
    this.explainers[reason]!.explain(bounds.half[t]!, b, bounds.data[t]!, t);
    const end = explanation.size;
    let all = true;
    for (let k = first; k < end && all; k++) {
      const need = explanation.bound[k]!;
      const s = bounds.entryOf(explanation.half[k]!, need);
      if (s < 0 || bounds.levelOf[s] === 0) continue;
      // A literal dropped for a stronger one on its half must not in turn be the ground for dropping that one.
      if (this.seen[s] !== 0 && this.need[s]! >= need && this.need[s] === this.strongest[bounds.half[s]!]) continue;
      all = this.explained(s, need, depth + 1);
    }
    explanation.size = first;
    if (all) this.removable.set(t, b);
    else if (depth < MINIMISE_DEPTH) this.poisoned.set(t, b);
    return all;
  }

  private growTo(entries: number): void {
    if (entries > this.seen.length) {
      const length = 2 * entries;
      this.seen = new Uint8Array(length);
      this.need = new Int32Array(length);
    }
    if (this.strongest.length < this.bounds.halves) {
      this.strongest = new Int32Array(this.bounds.halves);
      this.strongestStamp = new Int32Array(this.bounds.halves);
    }
    if (this.levelStamp.length <= this.bounds.level) this.levelStamp = new Int32Array(2 * this.bounds.level + 2);
  }
}
