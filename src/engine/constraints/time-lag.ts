import type { Bounds } from '../learn/bounds.ts';
import type { Explanation } from '../learn/explanation.ts';
import type { RisePropagator } from '../learn/propagator.ts';
import type { Solver } from '../learn/solver.ts';

const NONE = -1;

/** A lag that raises a half this often between two decisions is looked at for a positive cycle. */
const SUSPICIOUS = 6;

/**
 * Ensures that, for each lag, `to >= from + gap` holds whenever all of the lag's conditions are true (at most three
 * Booleans, each named by its half; none: always). Minimum lags, maximum lags (as negative gaps backwards), precedences
 * under an order Boolean and the durations of chosen modes are all of this form.
 *
 * Propagation: bounds along the lag in both directions; a lag that no longer fits makes its last open condition false;
 * conditions that close a cycle of positive length are refused together, without naming any bound. Wakes at every rise of
 * an end of a lag or of a condition, from the trail itself; one step costs the number of lags at the half that rose.
 *
 * Reference: Bartusch, Möhring and Radermacher, Annals of Operations Research 16, 1988 (generalised precedence); Feydy,
 * Schutt and Stuckey, CP 2008 (difference constraints with learning).
 */
export class TimeLags implements RisePropagator {
  private readonly solver: Solver;
  private readonly bounds: Bounds;
  private readonly explanation: Explanation;
  private readonly lagReason: number;
  private readonly conditionReason: number;
  /** Lags 2k and 2k+1 are one constraint read forwards and backwards. */
  private from: number[] = [];
  private to: number[] = [];
  private gap: number[] = [];
  private condition: number[] = [];
  private first = new Int32Array(0);
  private out = new Int32Array(0);
  private firstOfCondition = new Int32Array(0);
  private ofCondition = new Int32Array(0);
  private sealedTo = new Int32Array(0);
  private sealedGap = new Int32Array(0);
  private sealedCondition = new Int32Array(0);
  /** By half: raises through lags since the trail had size `raisedSince`. */
  private raised = new Int32Array(0);
  private raisedSince = new Int32Array(0);
  private cycle = new Int32Array(64);

  constructor(solver: Solver) {
    this.solver = solver;
    this.bounds = solver.bounds;
    this.explanation = solver.explanation;
    this.lagReason = solver.addExplainer({
      explain: (_half, need, lag) => this.explainLag(need, lag),
    });
    this.conditionReason = solver.addExplainer({
      explain: (half, _need, lag, before) => this.explainCondition(half, lag, before),
    });
    solver.addRise(this);
  }

  /** Adds `to >= from + gap` under the conditions. */
  add(from: number, to: number, gap: number, conditions: readonly number[] = []): void {
    this.from.push(from, to ^ 1);
    this.to.push(to, from ^ 1);
    this.gap.push(gap, gap);
    for (let side = 0; side < 2; side++) for (let k = 0; k < 3; k++) this.condition.push(conditions[k] ?? NONE);
  }

  get count(): number {
    return this.from.length >> 1;
  }

  seal(): void {
    const halves = this.bounds.halves;
    const lags = this.from.length;
    this.first = new Int32Array(halves + 1);
    this.firstOfCondition = new Int32Array(halves + 1);
    for (let e = 0; e < lags; e++) this.first[this.from[e]! + 1]!++;
    for (let k = 0; k < this.condition.length; k++) {
      if (this.condition[k]! !== NONE) this.firstOfCondition[this.condition[k]! + 1]!++;
    }
    for (let h = 0; h < halves; h++) {
      this.first[h + 1]! += this.first[h]!;
      this.firstOfCondition[h + 1]! += this.firstOfCondition[h]!;
    }
    this.out = new Int32Array(lags);
    this.ofCondition = new Int32Array(this.firstOfCondition[halves]!);
    const fill = this.first.slice();
    const fillCondition = this.firstOfCondition.slice();
    for (let e = 0; e < lags; e++) {
      this.out[fill[this.from[e]!]!++] = e;
      for (let k = 3 * e; k < 3 * e + 3; k++) {
        if (this.condition[k]! !== NONE) this.ofCondition[fillCondition[this.condition[k]!]!++] = e;
      }
    }
    this.sealedTo = Int32Array.from(this.to);
    this.sealedGap = Int32Array.from(this.gap);
    this.sealedCondition = Int32Array.from(this.condition);
    this.raised = new Int32Array(halves);
    this.raisedSince = new Int32Array(halves);
  }

  /** Brings every lag up to date with the bounds as they are. Once, after sealing. */
  start(): boolean {
    for (let e = 0; e < this.from.length; e++) if (!this.apply(e, this.bounds.lower[this.from[e]!]!)) return false;
    return true;
  }

  onRise(entry: number): boolean {
    const { bounds, first, out, sealedTo, sealedGap } = this;
    const lower = bounds.lower;
    const h = bounds.half[entry]!;
    const b = bounds.bound[entry]!;
    // A later rise of the same half does this one's work.
    if (lower[h] !== b) return true;
    this.solver.work +=
      (first[h + 1]! - first[h]! + 2 * (this.firstOfCondition[h + 1]! - this.firstOfCondition[h]!)) >> 3;
    for (let k = first[h]!, end = first[h + 1]!; k < end; k++) {
      const e = out[k]!;
      if (b + sealedGap[e]! > lower[sealedTo[e]!]! && !this.apply(e, b)) return false;
    }
    for (let k = this.firstOfCondition[h]!, end = this.firstOfCondition[h + 1]!; k < end; k++) {
      const e = this.ofCondition[k]!;
      if (!this.apply(e, lower[this.from[e]!]!)) return false;
    }
    return true;
  }

  private apply(e: number, fromBound: number): boolean {
    const { bounds, sealedCondition } = this;
    const lower = bounds.lower;
    const target = this.sealedTo[e]!;
    const b = fromBound + this.sealedGap[e]!;
    if (b <= lower[target]!) return true;
    let open = NONE;
    for (let k = 3 * e; k < 3 * e + 3; k++) {
      const c = sealedCondition[k]!;
      if (c === NONE) break;
      if (lower[c]! >= 1 - (c & 1)) continue;
      if (lower[c ^ 1]! >= (c & 1) || open !== NONE) return true;
      open = c;
    }
    if (open !== NONE) {
      if (b <= -lower[target ^ 1]!) return true;
      return bounds.raise(open ^ 1, open & 1, this.conditionReason, e);
    }
    if (bounds.level > 0) {
      const since = bounds.last[target]! >= 0 ? bounds.levelOf[bounds.last[target]!]! : 0;
      if (this.raisedSince[target] !== since) {
        this.raisedSince[target] = since;
        this.raised[target] = 0;
      } else if (++this.raised[target]! > SUSPICIOUS) {
        this.raised[target] = 0;
        if (this.closesCycle(e)) return false;
      }
    }
    return bounds.raise(target, b, this.lagReason, e);
  }

  /**
   * Walks back from the source of lag e along the lags that raised it. When the walk meets the target of e, the lags on
   * it form a cycle of positive length, and their conditions are the conflict.
   */
  private closesCycle(e: number): boolean {
    const { bounds, explanation } = this;
    const target = this.sealedTo[e]!;
    let n = 0;
    let length = this.sealedGap[e]!;
    this.cycle[n++] = e;
    let h = this.from[e]!;
    while (n < this.cycle.length) {
      const entry = bounds.last[h]!;
      if (entry < 0 || bounds.reason[entry] !== this.lagReason) return false;
      const lag = bounds.data[entry]!;
      this.cycle[n++] = lag;
      length += this.sealedGap[lag]!;
      h = this.from[lag]!;
      if (h === target) break;
    }
    if (h !== target || length <= 0) return false;
    explanation.size = 0;
    for (let k = 0; k < n; k++) this.pushConditions(this.cycle[k]!, NONE);
    return true;
  }

  private pushConditions(e: number, except: number): void {
    for (let k = 3 * e; k < 3 * e + 3; k++) {
      const c = this.sealedCondition[k]!;
      if (c === NONE) break;
      if (c !== except) this.explanation.pushTrue(c);
    }
  }

  private explainLag(need: number, e: number): void {
    this.explanation.push(this.from[e]!, need - this.sealedGap[e]!);
    this.pushConditions(e, NONE);
  }

  private explainCondition(half: number, e: number, before: number): void {
    const from = this.from[e]!;
    const b = this.bounds.at(from, before);
    this.explanation.push(from, b);
    this.explanation.push(this.sealedTo[e]! ^ 1, 1 - b - this.sealedGap[e]!);
    this.pushConditions(e, half ^ 1);
  }
}
