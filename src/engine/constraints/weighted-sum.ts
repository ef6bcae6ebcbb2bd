import type { Bounds } from '../learn/bounds.ts';
import type { Explanation } from '../learn/explanation.ts';
import type { Propagator } from '../learn/propagator.ts';
import type { Solver } from '../learn/solver.ts';

export interface Term {
  /** Half whose value counts; an odd half counts a variable negatively. */
  readonly half: number;
  /** Positive. */
  readonly weight: number;
}

/**
 * Ensures that `total >= constant + the sum of weight x half` over the terms: the objective of weighted tardiness, of
 * broken promises, of lead time.
 *
 * The total is at least the sum of least values; each term is at most what the greatest total leaves it. Explanations give
 * away the slack of the bound asked for, the first terms first. Wakes when a term or the negated total rises; O(terms).
 * Reference: Harvey and Schimpf, "Bounds consistency techniques for long linear constraints", TRICS 2002.
 */
export class WeightedSum implements Propagator {
  private readonly bounds: Bounds;
  private readonly explanation: Explanation;
  private readonly reason: number;
  private readonly terms: readonly Term[];
  private readonly total: number;
  private readonly constant: number;

  constructor(solver: Solver, terms: readonly Term[], total: number, constant: number) {
    this.bounds = solver.bounds;
    this.explanation = solver.explanation;
    this.terms = terms;
    this.total = total;
    this.constant = constant;
    this.reason = solver.addExplainer(this);
    solver.addPropagator(this, 1, [total ^ 1, ...terms.map((term) => term.half)]);
  }

  propagate(): boolean {
    const { bounds, terms, total, reason } = this;
    let sum = this.constant;
    for (let k = 0; k < terms.length; k++) sum += terms[k]!.weight * bounds.lower[terms[k]!.half]!;
    if (!bounds.raise(total, sum, reason, -1)) return false;
    const slack = -bounds.lower[total ^ 1]! - sum;
    for (let k = 0; k < terms.length; k++) {
      const { half, weight } = terms[k]!;
      const most = bounds.lower[half]! + Math.floor(slack / weight);
      if (-bounds.lower[half ^ 1]! > most && !bounds.raise(half ^ 1, -most, reason, k)) return false;
    }
    return true;
  }

  explain(_half: number, need: number, data: number, before: number): void {
    const { bounds, explanation, terms, total, constant } = this;
    let sum = constant;
    for (let k = 0; k < terms.length; k++) {
      if (k !== data) sum += terms[k]!.weight * bounds.at(terms[k]!.half, before);
    }
    let slack: number;
    if (data < 0) slack = sum - need;
    else {
      // The term was held to at most -need: one more than that with the others would pass the greatest total.
      const greatest = -bounds.at(total ^ 1, before);
      slack = sum + terms[data]!.weight * (1 - need) - greatest - 1;
      explanation.push(total ^ 1, -greatest);
    }
    for (let k = 0; k < terms.length; k++) {
      if (k === data) continue;
      const { half, weight } = terms[k]!;
      const b = bounds.at(half, before);
      if (bounds.entryOf(half, b) < 0) continue;
      const give = Math.floor(slack / weight);
      slack -= give * weight;
      explanation.push(half, b - give);
    }
  }
}
