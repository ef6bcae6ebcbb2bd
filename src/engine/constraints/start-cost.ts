import type { Bounds } from '../learn/bounds.ts';
import type { Explanation } from '../learn/explanation.ts';
import type { Propagator } from '../learn/propagator.ts';
import type { Solver } from '../learn/solver.ts';
import type { CostByStart } from './cost-by-start.ts';
import { ALWAYS } from './task.ts';

/** What one mode costs, by the minute at which it is begun. */
export interface CostedMode {
  /** Half of the Boolean that says the mode is taken, or ALWAYS. */
  readonly presence: number;
  readonly cost: CostByStart;
}

/**
 * Ensures that `cost` is at least what the mode taken costs when it is begun at `start`; at least nothing when no mode is.
 *
 * The cost is at least the least over the modes and starts still possible; once the operation is there, starts that cost
 * more than the greatest cost are passed over from both sides; a mode that costs more wherever it begins is refused. Explained by the
 * widest span of starts that would cost as much.
 *
 * Wakes when a bound of the start, the greatest cost or a mode changes; O(modes x cost of a question).
 * Reference: the element constraint on bounds (Van Hentenryck and Carillon, AAAI 1988).
 */
export class StartCost implements Propagator {
  private readonly bounds: Bounds;
  private readonly explanation: Explanation;
  private readonly reason: number;
  private readonly start: number;
  private readonly cost: number;
  private readonly modes: readonly CostedMode[];
  private readonly presence: number;

  /** `presence` is the half of the Boolean that says one of the modes is taken, or ALWAYS. */
  constructor(solver: Solver, start: number, cost: number, modes: readonly CostedMode[], presence: number) {
    this.bounds = solver.bounds;
    this.explanation = solver.explanation;
    this.start = start;
    this.cost = cost;
    this.modes = modes;
    this.presence = presence;
    this.reason = solver.addExplainer(this);
    const wakes = [start, start ^ 1, cost ^ 1];
    if (presence !== ALWAYS) wakes.push(presence);
    for (const mode of modes) if (mode.presence !== ALWAYS) wakes.push(mode.presence ^ 1);
    solver.addPropagator(this, 1, wakes);
  }

  propagate(): boolean {
    const { bounds, cost, modes, presence, reason, start } = this;
    if (presence !== ALWAYS && bounds.lower[presence]! < 1 - (presence & 1)) return true;
    const earliest = bounds.lower[start]!;
    const latest = -bounds.lower[start ^ 1]!;
    const most = -bounds.lower[cost ^ 1]!;
    let least = NONE;
    let first = NONE;
    let last = -NONE;
    for (let m = 0; m < modes.length; m++) {
      const { presence: taken, cost: costs } = modes[m]!;
      if (taken !== ALWAYS && bounds.lower[taken ^ 1]! >= (taken & 1)) continue;
      const from = costs.firstAtMost(earliest, most);
      if (from > latest) {
        if (taken === ALWAYS) {
          this.explanation.size = 0;
          this.writeSpan(costs, most, 0x7fffffff);
          this.explanation.push(cost ^ 1, -most);
          if (presence !== ALWAYS) this.explanation.pushTrue(presence);
          return false;
        }
        if (!bounds.raise(taken ^ 1, taken & 1, reason, m)) return false;
        continue;
      }
      first = Math.min(first, from);
      last = Math.max(last, costs.lastAtMost(latest, most));
      least = Math.min(least, costs.least(earliest, latest));
    }
    // With no mode left the clause over the modes has the conflict.
    if (first === NONE) return true;
    if (!bounds.raise(cost, least, reason, -1)) return false;
    if (!bounds.raise(start, first, reason, -1)) return false;
    return bounds.raise(start ^ 1, -last, reason, -1);
  }

  explain(half: number, need: number, data: number, before: number): void {
    const { bounds, cost, explanation, modes, presence, start } = this;
    const most = -bounds.at(cost ^ 1, before);
    if (data >= 0) {
      this.writeSpan(modes[data]!.cost, most, before);
      explanation.push(cost ^ 1, -most);
      return;
    }
    if (presence !== ALWAYS) explanation.pushTrue(presence);
    if (half !== cost) explanation.push(cost ^ 1, -most);
    for (const { presence: taken, cost: costs } of modes) {
      if (taken !== ALWAYS && bounds.at(taken ^ 1, before) >= (taken & 1)) explanation.pushTrue(taken ^ 1);
      else if (half === cost) this.writeSpan(costs, need - 1, before);
      else if (half === start) explanation.push(start, costs.lastAtMost(need - 1, most) + 1);
      else explanation.push(start ^ 1, 1 - costs.firstAtMost(1 - need, most));
    }
  }

  /** Writes the widest span, around the starts possible before a trail entry, in which all cost more than `most`. */
  private writeSpan(costs: CostByStart, most: number, before: number): void {
    const { bounds, explanation, start } = this;
    explanation.push(start, costs.lastAtMost(bounds.at(start, before), most) + 1);
    explanation.push(start ^ 1, 1 - costs.firstAtMost(-bounds.at(start ^ 1, before), most));
  }
}

const NONE = 1_000_000_000;
